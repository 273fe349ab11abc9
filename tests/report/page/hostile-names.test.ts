import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../../src/model/plan.js';
import { testCell } from '../../support/cell.js';
import { handMadePlan } from '../../support/hand-made-plan.js';
import { standWeldment } from '../../support/stand-weldment.js';
import { rawOf, tagsOf, textIn } from './markup.js';
import { ASSETS, pageOf, shapedContext } from './page-of.js';

const ATTACKS: Readonly<Record<string, string>> = {
  'a script': '<script>alert(1)</script>',
  'an end of a script': '</script><script>alert(1)//',
  'an attribute': '" onmouseover="alert(1)" x="',
  'an attribute in single quotes': "' onfocus='alert(1)' autofocus='",
  'a comment': '<!-- ',
  'an end of a style': '</style><img src=x onerror=alert(1)>',
  'an element of a picture': '</text></svg><svg onload=alert(1)>',
  'an address': 'javascript:alert(1)',
  'an entity': '&lt;script&gt;&#x3c;b&#x3e;',
  'a reference to a pattern': 'url(#newcomer)" id="page-data"',
  'ten thousand letters': 'x'.repeat(10_000),
  'a turn of the direction of reading': '\u202egnp.exe\u2066',
  'an emoji': '\u{1f525}\u{1f468}\u200d\u{1f3ed}',
  'half a character and a control': '\ud800\u0000\u0007\u2028',
};

/** Words of the format, which no file can choose: what is written there by a key of these names stays. */
const FIXED = new Set(
  (
    'kind,do,format,type,sides,phase,position,state,origin,from,to,rest,face,where,codeReason,waiting,minimality,' +
    'fault,stop,arcs,torch,then,reduction,stands,remedy,remedies,direction,class,estimate,outcome,term,objective,' +
    'provedTerms,habit,kept,frame,zone,path,shoulder,elbow,wrist,action,confirm,duty,arc,release,holds,cases,none,' +
    'while,process,order,magnetic,digest'
  ).split(','),
);

/** The same document with an attack at the end of every text that a file may choose, alike everywhere. */
function attacked<T>(value: T, attack: string, key = ''): T {
  if (typeof value === 'string') return (FIXED.has(key) || value === '' ? value : value + attack) as T;
  if (Array.isArray(value)) return value.map((entry) => attacked<unknown>(entry, attack, key)) as T;
  if (typeof value !== 'object' || value === null || value instanceof Map) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, member]) => [
      name,
      typeof member === 'string' && (name === 'from' || name === 'to') && !ENUMS.has(member)
        ? member + attack
        : attacked<unknown>(member, attack, name),
    ]),
  ) as T;
}
/** What `from` and `to` say where they name no robot or gripper. */
const ENUMS = new Set(['infeed', 'regrip', 'two-sided', 'place', 'weldment', 'settings']);

let plan: GeometricPlan;
beforeAll(async () => {
  plan = {
    ...handMadePlan(await loadLinearPrograms()),
    warnings: ['a warning'],
    cautions: ['a caution'],
  };
});

const made = new Map<string, string>();
function hostilePage(attack: string): string {
  if (!made.has(attack)) made.set(attack, madePage(attack));
  return made.get(attack)!;
}

const madePage = (attack: string): string =>
  pageOf(
    shapedContext(
      {
        // Of the settings a page shows what differs from the defaults, which are words of the format.
        plan: { ...attacked(plan, attack), settings: plan.settings },
        weldment: attacked(standWeldment(), attack),
        cell: attacked(testCell(), attack),
      },
      { findings: [{ rule: `rule${attack}`, where: attack, message: attack, trace: [attack] }] },
    ),
  );

/** Tags with the names of their attributes, in an order of their own: how names are laid out in pictures may differ. */
const skeleton = (page: string): readonly string[] =>
  tagsOf(page)
    .filter(({ closing }) => !closing)
    .map(({ name, attributes }) => [name, ...attributes.keys()].join(' '))
    .sort();

describe.each(Object.entries(ATTACKS))('a page with %s in every name', (_, attack) => {
  it('has the elements and attributes of a page with harmless names, and no other', () => {
    const [hostile, harmless] = [hostilePage(attack), hostilePage('')];
    expect(skeleton(hostile)).toEqual(skeleton(harmless));
  });

  it('has no address but its own places, and every id once', () => {
    const tags = tagsOf(hostilePage(attack)).filter(({ closing }) => !closing);
    for (const { attributes } of tags) {
      for (const name of attributes.keys()) expect(name).not.toMatch(/^on/i);
      expect(attributes.get('href') ?? '#').toMatch(/^#[a-z0-9-]*$/);
      expect(attributes.has('src')).toBe(false);
      for (const name of ['id', 'data-pick', 'for'])
        expect(attributes.get(name) ?? 'none').toMatch(/^[a-z]+[a-z0-9.:-]*$/);
    }
    const ids = tags.flatMap(({ attributes }) => attributes.get('id') ?? []);
    expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
  });

  it('keeps it out of style and script, and in its data as data', () => {
    const [style, ...scripts] = rawOf(hostilePage(attack));
    expect(style!.trim()).toBe(ASSETS.style);
    expect(scripts.at(-1)).toBe(ASSETS.script);
    for (const data of scripts.slice(0, -1)) {
      expect(data).not.toMatch(/[<>&\u2028\u2029]/);
      expect(() => JSON.parse(data) as unknown).not.toThrow();
    }
  });
});

describe('what a name shows', () => {
  it('is the name itself, as text', () => {
    expect(textIn(hostilePage('<b>&"'), 'sheet-1-title')).toContain('<b>&"');
  });

  it('has no mark that is not seen or turns the direction of reading', () => {
    const page = hostilePage('\u202egnp\u200d\u0000');
    // eslint-disable-next-line no-control-regex
    expect(/[\u202a-\u202e\u2066-\u2069\u200b-\u200f\u0000]/.exec(page)?.[0]).toBeUndefined();
    expect(textIn(page, 'sheet-1-title')).toContain('\\u202egnp');
  });
});

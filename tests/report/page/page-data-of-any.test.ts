import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../../src/model/plan.js';
import type { Weldment } from '../../../src/model/weldment.js';
import { plain } from '../../../src/report/plain.js';
import type { GeometricContext } from '../../../src/report/page/page-context.js';
import { pageData } from '../../../src/report/page/page-data-of.js';
import { MUTATIONS } from '../../rules/mutations.js';
import { testCell } from '../../support/cell.js';
import { pageContext, standPage } from '../../support/page-plans.js';
import { standWeldment } from '../../support/stand-weldment.js';

let sound: GeometricContext;
beforeAll(async () => {
  sound = standPage(await loadLinearPrograms());
}, 120_000);

const HOSTILE = [
  '</script><script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  '<!-- & ]]> {{x}} ${x} `x`',
  'constructor',
  '\u202edlrow\u200b\u{1f600} ' + 'x'.repeat(60),
];

/** The stand with its wall, its first joint and its robots under another name, wherever they are named. */
function renamed(name: string): GeometricContext {
  const named = <T>(value: T): T => {
    let json = JSON.stringify(value);
    for (const old of ['wall', 'J1', 'handler']) json = json.replaceAll(`"${old}"`, JSON.stringify(name));
    return JSON.parse(json) as T;
  };
  const weldment = standWeldment();
  const parts = weldment.parts.map((part) => (part.id === 'wall' ? { ...part, id: name } : part));
  const joints = weldment.joints && named(weldment.joints);
  const cell = testCell();
  const handlers = cell.handlers.map((one) => ({ ...one, id: name }));
  const plan: GeometricPlan = named(sound.plan);
  plan.weldment.name = name;
  return pageContext(plan, { ...weldment, parts, joints, name } as Weldment, { ...cell, handlers });
}

/** Everything of a kind in plain data. */
function all<T>(value: unknown, is: (one: unknown) => one is T): readonly T[] {
  if (is(value)) return [value];
  return typeof value === 'object' && value !== null
    ? Object.values(value).flatMap((one) => all(one, is))
    : [];
}

const isText = (one: unknown): one is string => typeof one === 'string';
const isNumber = (one: unknown): one is number => typeof one === 'number';

describe('what the page is told of a plan with hostile names', () => {
  it.each(HOSTILE)('is plain text with the name as it is: %s', (name) => {
    const page = pageData(renamed(name));
    const shown = plain(name);
    expect(page.weldment).toBe(shown);
    expect(page.parts.map((part) => part.name)).toContain(shown);
    expect(page.robots.map((robot) => robot.name)).toContain(shown);
    const texts = all(page, isText);
    for (const text of texts) expect(plain(text)).toBe(text);
    expect(texts.filter((text) => text.includes(shown)).length).toBeGreaterThan(20);
  });

  it('has no name in what elements are found by', () => {
    for (const name of HOSTILE) {
      const { details, stages, joints } = pageData(renamed(name));
      expect(Object.keys(details)).toEqual(Object.keys(pageData(sound).details));
      expect(stages.flatMap(({ tacks }) => tacks.map(({ pick }) => pick)).join(' ')).toMatch(
        /^[tack:.\d ]+$/,
      );
      expect(joints.map(({ pick }) => pick)).toEqual(['joint:0', 'joint:1', 'joint:2']);
    }
  });
});

describe('what the page is told of a plan that breaks a rule', () => {
  it('is there all the same, with numbers that can be shown', () => {
    const { cell, plan } = sound;
    for (const { rule, name, mutate } of MUTATIONS) {
      const spoilt = mutate({ weldment: sound.scene.weldment, cell, plan });
      if (spoilt === undefined) continue;
      const page = pageData(pageContext(spoilt.plan, spoilt.weldment, spoilt.cell));
      expect(all(page, isNumber).every(Number.isFinite), `${rule}: ${name}`).toBe(true);
      expect(page.parts, `${rule}: ${name}`).toHaveLength(sound.scene.parts.length);
    }
  });
});

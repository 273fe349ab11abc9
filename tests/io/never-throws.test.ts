import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readFamily } from '../../src/io/family/read-family.js';
import { readCell } from '../../src/io/read-cell.js';
import { readPlan } from '../../src/io/read-plan.js';
import { readSettings } from '../../src/io/read-settings.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import type { Reading } from '../../src/io/reading.js';

const text = (path: string): string =>
  readFileSync(new URL(`../../examples/${path}`, import.meta.url), 'utf8');

const story = (name: string): string =>
  readFileSync(new URL(`../stories/arm-by-urdf/${name}`, import.meta.url), 'utf8');
const [URDF, URDF_CELL] = [story('story-arm.urdf'), story('cell.yaml')];

/** A family as any other file is read. */
function familyReading(text: string): Reading<unknown> {
  const { family, issues } = readFamily(text, 'f');
  return { value: family, digest: family?.digest, issues };
}

const FILES: readonly (readonly [string, (text: string) => Reading<unknown>, string])[] = [
  ['weldment', (t) => readWeldment(t, 'f'), text('roller-stand/roller-stand.weldment.yaml')],
  ['abstract weldment', (t) => readWeldment(t, 'f'), text('ring-of-six/ring-of-six.weldment.yaml')],
  ['family', familyReading, text('families/ladder-bracket.family.yaml')],
  ['cell', (t) => readCell(t, 'f'), text('cells/twin-bench.cell.yaml')],
  ['cell with a URDF file', (t) => readCell(t, 'f', { 'story-arm.urdf': URDF }), URDF_CELL],
  [
    'settings',
    (t) => readSettings(t, 'f'),
    'tacks: { leg: 3, step: 5 }\nseed: 4\nobjective: [time, regrips, tool-changes]\n',
  ],
  [
    'plan',
    (t) => readPlan(t, 'f'),
    '{"kind": "abstract", "stages": [{"number": 1}], "proof": {"scope": {}}}',
  ],
];

/** A value comes exactly when no issue is an error, and every issue is complete. */
function expectSound(reading: Reading<unknown>, lines: number): void {
  const errors = reading.issues.filter(({ severity }) => severity === 'error');
  expect(reading.value === undefined).toBe(errors.length > 0);
  expect(reading.digest === undefined).toBe(errors.length > 0);
  for (const issue of reading.issues) {
    expect(issue.line).toBeGreaterThanOrEqual(1);
    expect(issue.line).toBeLessThanOrEqual(lines + 1);
    expect(issue.problem).not.toBe('');
    expect(issue.remedy).not.toBe('');
    expect(`${issue.path}${issue.problem}${issue.remedy}`).not.toMatch(/undefined|\[object|\p{Cc}/u);
  }
}

const scraps = fc.oneof(
  fc.constantFrom(
    '{',
    '}',
    '[',
    ']',
    ':',
    ': ',
    '- ',
    '\n',
    '\t',
    '"',
    "'",
    '&a ',
    '*a',
    '!',
    '#',
    '|',
    '>',
    '? ',
    '%',
  ),
  fc.constantFrom(
    '__proto__: 1\n',
    'null',
    '-0',
    '1e999',
    '.nan',
    '"\\u0000"',
    '\u202e',
    '---\n',
    '<<: *a\n',
  ),
  fc.string({ maxLength: 4 }),
);

const wrongValues = fc.oneof(
  fc.constantFrom(null, 0, -0, -1, 1e-320, 1e308, '', '__proto__', 'constructor', 'toString', true, [], {}),
  fc.constantFrom([[]], [null], [1, 2, 3], ['a', 'a'], { between: ['a', 'b'] }, { duty: 'weld' }, 'S235'),
  fc.jsonValue({ maxDepth: 2 }),
);

/** Everything inside a plain value that can be replaced: the map or list, and the key. */
function slots(value: unknown): readonly (readonly [Record<string, unknown>, string])[] {
  if (typeof value !== 'object' || value === null) return [];
  const inside = value as Record<string, unknown>;
  return Object.keys(inside).flatMap((key) => [[inside, key] as const, ...slots(inside[key])]);
}

describe.each(FILES)('reading a damaged %s', (_, read, good) => {
  it('never throws when the text is damaged anywhere', () => {
    const cuts = fc.array(fc.tuple(fc.nat(good.length), fc.nat(6), scraps), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(cuts, (edits) => {
        const damaged = edits.reduce((t, [at, gone, put]) => t.slice(0, at) + put + t.slice(at + gone), good);
        expectSound(read(damaged), damaged.split('\n').length);
      }),
      { numRuns: 200, seed: 1 },
    );
  });

  it('never throws when values are replaced, dropped or renamed', () => {
    const edit = fc.tuple(fc.nat(), fc.constantFrom('replace', 'drop', 'rename'), wrongValues, fc.string());
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 4 }), (edits) => {
        const value: unknown = parse(good);
        for (const [at, what, by, name] of edits) {
          const all = slots(value);
          if (all.length === 0) break;
          const [inside, key] = all[at % all.length]!;
          const old = inside[key];
          if (what !== 'replace') Reflect.deleteProperty(inside, key);
          if (what === 'replace') inside[key] = structuredClone(by);
          if (what === 'rename' && !Array.isArray(inside) && name !== '__proto__') inside[name] = old;
        }
        const damaged = JSON.stringify(value, null, 1);
        expectSound(read(damaged), damaged.split('\n').length);
      }),
      { numRuns: 200, seed: 2 },
    );
  });
});

describe('reading a cell with a damaged URDF file', () => {
  const lines = URDF_CELL.split('\n').length;
  const read = (urdf: string): Reading<unknown> => readCell(URDF_CELL, 'f', { 'story-arm.urdf': urdf });

  it('never throws when the text is damaged anywhere', () => {
    const marks = fc.constantFrom(
      '<',
      '>',
      '/>',
      '</robot>',
      '"',
      '&',
      '&#0;',
      '<!--',
      '<![CDATA[',
      '<?',
      '\u0000',
      '=',
      'x:y',
    );
    const cuts = fc.array(fc.tuple(fc.nat(URDF.length), fc.nat(6), fc.oneof(marks, scraps)), {
      minLength: 1,
      maxLength: 4,
    });
    fc.assert(
      fc.property(cuts, (edits) => {
        expectSound(
          read(edits.reduce((t, [at, gone, put]) => t.slice(0, at) + put + t.slice(at + gone), URDF)),
          lines,
        );
      }),
      { numRuns: 150, seed: 3 },
    );
  });

  it('never throws when numbers and names are replaced', () => {
    const by = fc.constantFrom(
      '0',
      '-0',
      '1e308',
      '-1e-320',
      '1e999',
      'NaN',
      '',
      '0x10',
      '7',
      'hand',
      'fixed',
      'revolute',
      '0 0 0',
      '1e200 0 0',
    );
    const edits = fc.array(fc.tuple(fc.nat(), by), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(edits, (list) => {
        const values = [...URDF.matchAll(/"[^"]*"/g)];
        const damaged = list.reduce(
          (t, [at, put]) => t.replace(values[at % values.length]![0], `"${put}"`),
          URDF,
        );
        expectSound(read(damaged), lines);
      }),
      { numRuns: 200, seed: 4 },
    );
  });
});

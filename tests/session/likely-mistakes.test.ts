import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { issueLine } from '../../src/model/issue.js';
import { inspectSession } from '../../src/session/inspect-session.js';
import { planSession } from '../../src/session/plan.js';
import { benchText } from '../support/cell-text.js';
import { allWarnings, warningsOf } from './all-warnings.js';

const programs = await loadLinearPrograms();

const HEAD = 'weldment: w\nunits: mm kg N s deg\n';
const BASE = 'base: { plate: { length: 300, width: 200, thickness: 10 }, at: [0, 0, 5] }';
const BLOCK = 'block: { block: { length: 60, width: 60, height: 40 }, at: [0, 0, 30] }';

const fileOf = (parts: readonly string[], rest = ''): string =>
  `${HEAD}parts:\n${parts.map((part) => `  ${part}\n`).join('')}${rest}`;

/** Warnings of a weldment that is looked at without a cell, or in the cell given. */
const told = (text: string, cell?: string): readonly string[] =>
  warningsOf(
    {
      weldment: { text, name: 'w.yaml' },
      cell: cell === undefined ? undefined : { text: cell, name: 'c.yaml' },
    },
    programs,
  ).map(issueLine);

describe('warnings of likely mistakes', () => {
  it('say nothing of the examples and stories, but where they are about one', () => {
    expect(allWarnings(programs)).toEqual({
      'stories/no-contact-and-overlap': ['weldment-in-pieces joints'],
    });
  });

  it('say nothing of two parts that are as they should be', () => {
    expect(told(fileOf([BASE, BLOCK]))).toEqual([]);
  });

  // By hand: 60 x 60 x 40 mm3 of steel of 7850 kg/m3 are 1.1304 kg.
  it.each([
    [1130, '1130 kg, and its shape of S235 comes to 1.13 kg; this may be g: give kg'],
    [2.5, '2.5 kg, and its shape of S235 comes to 1.13 kg; this may be lb: give kg'],
    [0.00113, '0 kg, and its shape of S235 comes to 1.13 kg; this may be t: give kg'],
    [4, '4 kg, and its shape of S235 comes to 1.13 kg; give kg'],
  ])('tell a mass of %s kg of a shape of 1.13 kg', (mass, said) => {
    const [line, ...more] = told(fileOf([BASE, BLOCK.replace(' }', ` }, mass: ${mass}`)]));
    expect(more).toEqual([]);
    expect(line).toContain(`w.yaml:5: parts.block.mass: warning: ${said}`);
  });

  it('say nothing of a mass up to twice or down to half that of the shape', () => {
    for (const mass of [0.57, 1.13, 2.2])
      expect(told(fileOf([BASE, BLOCK.replace(' }', ` }, mass: ${mass}`)]))).toEqual([]);
  });

  it('tell a plate that is thicker than wide', () => {
    const tall = 'tall: { plate: { length: 60, width: 8, thickness: 40 }, at: [0, 0, 30] }';
    expect(told(fileOf([BASE, tall]))).toEqual([
      'w.yaml:5: parts.tall.plate.thickness: warning: 40 mm is more than its width, 8 mm; correct the sizes, or write `block`',
    ]);
  });

  it('tell a gap once to twice that which may be tacked, and none beyond', () => {
    const at = (gap: number): readonly string[] =>
      told(fileOf([BASE, BLOCK.replace('30] }', `${30 + gap}] }`)]));
    expect(at(0.9)).toEqual([]);
    expect(at(1.4)).toEqual([
      'w.yaml:5: parts.block: warning: block and base are 1.4 mm apart, and at most 1 mm is tacked; close the gap, or raise `fit-up.gap` if such a gap can be tacked; if it is meant, nothing',
    ]);
    expect(at(2.5)).toEqual([]);
  });

  it('say nothing of a gap between parts that the joint list does not join', () => {
    const post = 'post: { block: { length: 60, width: 60, height: 40 }, at: [61.5, 0, 30] }';
    const joints = 'joints: [{ between: [base, block] }, { between: [base, post] }]\n';
    expect(told(fileOf([BASE, BLOCK, post], joints))).toEqual([]);
    expect(told(fileOf([BASE, BLOCK, post]))).toHaveLength(1);
  });

  it('tell an overlap too small to be an error', () => {
    expect(told(fileOf([BASE, BLOCK.replace('30] }', '29.98] }')]))).toEqual([
      'w.yaml:5: parts.block: warning: block and base overlap by 0.02 mm and are taken to touch; round `at` and sizes so that they just touch',
    ]);
  });

  it('tell a part far from all others', () => {
    const away = BLOCK.replace('[0, 0, 30]', '[3000, 0, 30]');
    // From x = 150 to x = 2970.
    expect(told(fileOf([BASE, away])).join('\n')).toContain(
      'parts.block.at: warning: block is 2820 mm from every other part, farther than they are large together; look for a wrong sign',
    );
  });

  it('tell pieces that no joint connects, and a tolerance between them', () => {
    const parts = [BASE, BLOCK, BLOCK.replace('block:', 'post:').replace('[0,', '[100,')];
    const cap = 'cap: { plate: { length: 40, width: 40, thickness: 8 }, at: [100, 0, 54] }';
    const rest =
      'joints: [{ between: [base, block] }, { between: [post, cap] }]\ntolerances: [{ name: t, from: base, to: cap, iso-13920: B }]\n';
    expect(told(fileOf([...parts, cap], rest))).toEqual([
      'w.yaml:8: joints: warning: no chain of joints leads from base to cap, post; add the joint that is missing, or plan each piece by itself',
      'w.yaml:9: tolerances[0]: warning: no chain of joints leads from base to cap; name parts of one piece, or add the joint that is missing',
    ]);
  });

  it('tell pieces of a weldment without shapes', () => {
    const text = `${HEAD}parts: { a: {}, b: {}, c: {}, d: {} }\njoints: [{ between: [a, b] }, { between: [c, d] }]\n`;
    expect(told(text)).toEqual([
      'w.yaml:4: joints: warning: no chain of joints leads from a to c, d; add the joint that is missing, or plan each piece by itself',
    ]);
  });

  it('tell a grip beside its face', () => {
    const grips = (x: number): string =>
      BLOCK.replace(' at:', ` grips: [{ gripper: wide, face: +z, position: [${x}, 0] }], at:`);
    expect(told(fileOf([BASE, grips(30)]))).toEqual([]);
    expect(told(fileOf([BASE, grips(31)]))).toEqual([
      'w.yaml:5: parts.block.grips[0].position: warning: [31, 0] is beside +z, which reaches 30 and 30 mm from its middle; count from the middle of the face, along its axes',
    ]);
  });

  it('tell a part that leaves little of the payload', () => {
    // The lightest gripper of that cell has 1.9 kg, its robot carries 20 kg; the plate of 300 x 200 x 10 has 4.71 kg.
    const of = (mass: number): readonly string[] =>
      told(
        fileOf([
          BASE,
          'ingot: { block: { length: 160, width: 100, height: 100 }, mass: MASS, at: [0, 0, 60] }'.replace(
            'MASS',
            `${mass}`,
          ),
        ]),
        benchText(),
      );
    expect(of(16)).toEqual([]);
    expect(of(17)).toEqual([
      'w.yaml:5: parts.ingot: warning: ingot and its lightest gripper come to 18.9 kg of the 20 kg that handler may carry; check `mass` and `payload`, which holds near the wrist only; or use a lighter gripper',
    ]);
    expect(of(19)).toEqual([]); // beyond it planning itself says what is wrong
  });

  it('tell a station beyond every arm, in the cell file', () => {
    const far = benchText().replace('infeed: { at: [-1250, -1000, 300]', 'infeed: { at: [-1250, -4000, 300]');
    expect(told(fileOf([BASE, BLOCK]), far)).toEqual([
      expect.stringMatching(
        /^c\.yaml:\d+: stations\.infeed: warning: its middle is farther from handler than/,
      ),
    ]);
  });

  it('come with what can be shown, and with errors', () => {
    const weldment = {
      text: fileOf([BASE, BLOCK.replace('30] }', '28] }').replace(' }', ' }, mass: 50')]),
      name: 'w.yaml',
    };
    const outcome = inspectSession({ weldment }, programs);
    expect(outcome.kind).toBe('inspected');
    expect(outcome.issues.map(({ code }) => code).sort()).toEqual([
      'mass-unlike-shape',
      'part-joined-to-nothing',
      'part-joined-to-nothing',
      'parts-overlap',
    ]);
  });

  it('are in the outcome and the document of a plan, which passes the rules', () => {
    const text = fileOf([BASE, BLOCK.replace(' }', ' }, mass: 2.5')]);
    const sources = { weldment: { text, name: 'w.yaml' }, cell: { text: benchText(), name: 'c.yaml' } };
    const outcome = planSession(sources, { programs });
    if (outcome.kind !== 'planned') throw new Error(JSON.stringify(outcome));
    expect(outcome.warnings.map(({ code }) => code)).toEqual(['mass-unlike-shape']);
    expect(outcome.plan.warnings).toContain(issueLine(outcome.warnings[0]!));
  });
});

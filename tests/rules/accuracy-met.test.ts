import { beforeAll, describe, expect, it } from 'vitest';
import type { Cell } from '../../src/model/cell.js';
import type { Finding } from '../../src/model/finding.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { accuracyMet } from '../../src/rules/accuracy-met.js';
import { checkGeometric } from '../../src/rules/check.js';
import { testCell } from '../support/cell.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';
import { inputsOf, Planner, story } from '../support/planned.js';
import { standWeldment } from '../support/stand-weldment.js';
import { inPlan, stepsOf, type Checked } from './mutation.js';

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

function rulesOf({ weldment, cell, plan }: Checked): string[] {
  const findings = checkGeometric(contextOf(plan, planner.programs, weldment, cell));
  return [...new Set(findings.map(({ rule }) => rule))];
}

function planned(name: string): Checked {
  const files = story(name);
  const { weldment, cell } = inputsOf(files);
  if (weldment.kind !== 'geometric' || !cell) throw new Error(`${name} has no shapes`);
  return { weldment, cell, plan: planner.plan(files) };
}

describe('the gap of the wall of the hand-made stand', () => {
  const gapOfWall = (cell: Cell): Finding | undefined =>
    accuracyMet
      .judge(contextOf(handMadePlan(planner.programs), planner.programs, standWeldment(), cell))
      .find(({ message }) => message.startsWith('gap of wall at base'));
  const infeed = (accuracy: number): Cell => ({ ...testCell(), infeed: { ...testCell().infeed, accuracy } });

  // By hand: it is brought on an edge, so a^2 + 0.1^2 (pick) + 0.1^2 (arm) + 0.3^2 (cut) + 0.3^2 (base) = 1^2.
  const turning = Math.sqrt(1 - 2 * 0.1 ** 2 - 2 * 0.3 ** 2);

  it('holds up to the accuracy at which the root of all squares is the gap that may be tacked', () => {
    expect(gapOfWall(infeed(turning - 1e-3))).toBeUndefined();
  });

  it('fails beyond it, with the numbers', () => {
    const found = gapOfWall(infeed(turning + 1e-3));
    expect(found?.limit).toBe(1);
    expect(found?.value).toBeCloseTo(1 + 1e-3 * turning, 5);
  });

  it('fails much sooner when the worst case is asked for', () => {
    const plan = handMadePlan(planner.programs);
    plan.settings.accuracy.combine = 'arithmetic';
    // 0.1 + 0.1 + 0.3 + 0.3 leave 0.2 for the infeed.
    const gap = (accuracy: number) =>
      accuracyMet
        .judge(contextOf(plan, planner.programs, standWeldment(), infeed(accuracy)))
        .filter(({ message }) => message.startsWith('gap of wall at base'));
    expect(gap(0.199)).toEqual([]);
    expect(gap(0.201)).toHaveLength(1);
  });
});

describe.each([
  ['locate', 'datum-visit-cures-a-tight-gap'],
  ['seat', 'seated-against-its-neighbour'],
  ['seam-search', 'seam-search-for-a-loose-datum'],
] as const)('the remedy %s', (remedy, name) => {
  let sound: Checked;
  beforeAll(() => {
    sound = planned(name);
  });
  const changed = (change: (plan: GeometricPlan) => unknown): string[] =>
    rulesOf(inPlan(change)(sound) ?? sound);

  it('breaks no rule as planned', () => {
    expect(rulesOf(sound)).toEqual([]);
  });

  it('is missed by its step when the programs leave it out', () => {
    const rules = changed((plan) => {
      const steps = stepsOf(plan);
      const step = steps.find((one) => one.do === remedy)!;
      const program = plan.programs.find((one) => one.steps.includes(step))!;
      program.steps.splice(program.steps.indexOf(step), 1);
    });
    expect(rules).toContain('programs-true');
  });

  it('is missed by its direction when the stage does not name it', () => {
    const rules = changed((plan) => {
      const stage = plan.stages.at(-1)!;
      stage.remedies = stage.remedies.filter((one) => one !== remedy);
    });
    expect(rules).toContain('accuracy-met');
  });
});

describe('a part on the two-sided stand', () => {
  const withStand = (change: Partial<NonNullable<Cell['twoSided']>> | undefined): string[] => {
    const sound = planned('flipped-over-on-the-stand');
    const twoSided = change && { ...sound.cell.twoSided!, ...change };
    return rulesOf({ ...sound, cell: { ...sound.cell, twoSided } });
  };

  it('breaks no rule as planned', () => {
    expect(withStand({})).toEqual([]);
  });

  it('falls through an opening that is as wide as it is long', () => {
    expect(withStand({ opening: [200, 200] })).toEqual(['rests-stable']);
  });

  it('hangs over a stand that is smaller than it', () => {
    expect(withStand({ size: [200, 190] })).toEqual(['rests-stable']);
  });

  it('cannot be taken from below through an opening that is narrower than the gripper', () => {
    expect(withStand({ opening: [200, 50] })).toEqual(['gripper-clear', 'arms-clear']);
  });

  it('is nowhere in a cell without one', () => {
    expect(withStand(undefined)).toContain('handling-continuous');
  });
});

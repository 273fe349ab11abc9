import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import type { Shape } from '../../src/model/shape.js';
import { gripFits } from '../../src/rules/grip-fits.js';
import { gripperClear } from '../../src/rules/gripper-clear.js';
import { restsStable } from '../../src/rules/rests-stable.js';
import type { Rule } from '../../src/rules/rule.js';
import { testCell } from '../support/cell.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';
import { standWeldment } from '../support/stand-weldment.js';

let programs: LinearPrograms;
let plan: GeometricPlan;
beforeAll(async () => {
  programs = await loadLinearPrograms();
  plan = handMadePlan(programs);
});

/** Findings of a rule about the base, which is given another shape; the plan stays that of the stand. */
function judgeBase(rule: Rule, shape: Shape, change: (grip: GeometricPlan['stages'][0]) => void): string[] {
  const copy = structuredClone(plan);
  change(copy.stages[0]!);
  const weldment = standWeldment();
  const parts = weldment.parts.map((part) => (part.id === 'base' ? { ...part, shape } : part));
  return rule
    .judge(contextOf(copy, programs, { ...weldment, parts }, testCell()))
    .filter(({ where }) => where.startsWith('stages[0]'))
    .map(({ message }) => message);
}

const half = 160;
const SQUARE = [
  [-half, -half],
  [half, -half],
  [half, half],
  [-half, half],
] as const;

describe('pads and holes', () => {
  const drilled = (diameter: number, at: number): Shape => ({
    kind: 'cut-plate',
    outline: SQUARE,
    holes: [{ at: [at, 0], diameter }],
    thickness: 10,
  });

  it('a pad over a hole is found, beside it not', () => {
    const { gripper, position } = plan.stages[0]!.handling[0]!.grip;
    const pad = testCell().grippers.find(({ id }) => id === gripper)!;
    expect(position).toEqual([0, 0]);
    expect(pad).toMatchObject({ pads: [[0, 0]] });
    const radius = pad.padDiameter / 2;
    const over = judgeBase(gripFits, drilled(20, radius + 9), () => undefined);
    expect(over).toHaveLength(1);
    expect(over[0]).toMatch(/^pad 1 of .* is not wholly on \+z of base/);
    expect(judgeBase(gripFits, drilled(20, radius + 11), () => undefined)).toEqual([]);
  });

  it('a round face takes no pad', () => {
    const bar: Shape = { kind: 'round-bar', length: 320, diameter: 320 };
    const findings = judgeBase(gripFits, bar, ({ handling }) => (handling[0]!.grip.face = 'round-3'));
    expect(findings).toEqual(['base has no flat face "round-3"']);
  });
});

describe('a gripper inside an angle', () => {
  const angle: Shape = { kind: 'angle', length: 320, width: 320, height: 320, thickness: 10 };
  const onLeg = (v: number) =>
    judgeBase(gripperClear, angle, ({ handling }) => {
      Object.assign(handling[0]!.grip, { face: 'inner-z', position: [0, v], turn: 0 });
    }).filter((message) => message.includes('meets the part itself'));

  it('is clear in the middle of a leg and meets the other leg near the corner', () => {
    expect(onLeg(0)).toEqual([]);
    expect(onLeg(-140)).toHaveLength(1);
  });
});

describe('rests of other shapes', () => {
  const rest = (shape: Shape, name: string) =>
    judgeBase(restsStable, shape, ({ handling }) => (handling[0]!.take.rest = name));

  it('a bar rolls on its round side and stands on its end', () => {
    const bar: Shape = { kind: 'round-bar', length: 60, diameter: 80 };
    expect(rest(bar, 'round-1')).toEqual(['base rolls on its round face round-1']);
    expect(rest(bar, '+x')).toEqual([]);
  });

  it('an angle stands on its toes and tips on the edge of a leg', () => {
    const angle: Shape = { kind: 'angle', length: 200, width: 60, height: 60, thickness: 6 };
    expect(rest(angle, 'toes-1')).toEqual([]);
    expect(rest(angle, 'toe+y')[0]).toMatch(/^base on its face toe\+y has its centre of mass -11.2/);
  });
});

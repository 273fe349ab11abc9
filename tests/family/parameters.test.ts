import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { parametersOf } from '../../src/family/parameters.js';
import { patternOf } from '../../src/family/pattern.js';
import type { BuildPattern } from '../../src/model/build-pattern.js';
import { stageParametersSchema } from '../../src/model/pattern-parameters.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { testCell } from '../support/cell.js';
import { handMadePlan } from '../support/hand-made-plan.js';
import { standWeldment } from '../support/stand-weldment.js';

let plan: GeometricPlan;
let pattern: BuildPattern;
beforeAll(async () => {
  plan = handMadePlan(await loadLinearPrograms());
  pattern = patternOf(plan, { weldment: standWeldment(), cell: testCell() }, 'stand');
});

describe('the parameters of a pattern', () => {
  it('are the numbers of the plan, a grip for every regrip of the pattern and one more', () => {
    const stages = parametersOf(plan, pattern);
    for (const stage of stages) expect(stageParametersSchema.parse(stage)).toEqual(stage);
    expect(stages.map(({ stage, of, part, grips }) => [stage, of, part, grips.length])).toEqual([
      [1, 1, 'base', 1],
      [2, 2, 'wall', 1],
      [3, 3, 'rib', 2],
    ]);
    expect(stages.every(({ grips, of }) => grips.length === pattern.stages[of - 1]!.regrips.length + 1)).toBe(
      true,
    );
    expect(stages[2]!.grips.at(-1)).toEqual({
      position: plan.stages[2]!.handling[1]!.grip.position,
      taken: plan.stages[2]!.handling[1]!.take.part,
      put: plan.stages[2]!.handling[1]!.put.part,
    });
    expect(stages[2]!.approach!.distance).toBe(160);
  });

  it('have the tacks in the order in which they are laid', () => {
    const shuffled = {
      ...plan,
      stages: plan.stages.map((stage) => ({ ...stage, tacks: stage.tacks.toReversed() })),
    };
    for (const stated of [plan, shuffled])
      expect(
        parametersOf(stated, pattern)[1]!.tacks.map(({ seam, start, phase }) => [seam, start, phase]),
      ).toEqual([
        ['J1.1', 10, 'securing'],
        ['J1.2', 250, 'securing'],
        ['J1.1', 250, 'completing'],
        ['J1.2', 10, 'completing'],
      ]);
  });

  it('count stages as the pattern does, also where the variant lacks a part', () => {
    const lacking = { ...plan, stages: plan.stages.filter(({ part }) => part !== 'wall') };
    expect(parametersOf(lacking, pattern).map(({ of }) => of)).toEqual([1, 3]);
  });

  it('say which tacks a person lays', () => {
    const [tack] = plan.stages[1]!.tacks;
    const byHand = { ...tack!, id: 'by-hand', order: 9 };
    const stage = { ...plan.stages[1]!, manual: { seconds: 60, clamp: null, tacks: [byHand] } };
    const tacks = parametersOf({ ...plan, stages: [stage] }, pattern)[0]!.tacks;
    expect(tacks.at(-1)).toMatchObject({ id: 'by-hand', robot: null, phase: null, seam: 'J1.1' });
  });
});

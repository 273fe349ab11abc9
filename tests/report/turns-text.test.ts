import { describe, expect, it } from 'vitest';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { turnLines } from '../../src/report/turns-text.js';
import { barePlan } from '../support/bare-plan.js';

const turn = (stage: number, to: number, start: number, end: number): Step => ({
  ...{ n: stage, stage, start, end, do: 'turn', to },
});

function planAt(...angles: readonly (number | undefined)[]): GeometricPlan {
  const plan = barePlan(...angles.map((_, i) => `part-${i + 1}`));
  angles.forEach((angle, i) => {
    if (angle !== undefined) plan.stages[i]!.turn = angle;
  });
  return plan;
}

describe('turns of the table in the text of a plan', () => {
  it('say at which angle the stages are, who turns the table and how long it takes', () => {
    const plan = planAt(0, 0, 0, 90, -22.5);
    const steps = [turn(4, 90, 10, 13.5), turn(5, -22.5, 20, 24.75)];
    plan.programs = [{ robot: 'welder', duty: 'weld', steps }];
    expect(turnLines(plan)).toEqual([
      '',
      'Table: at 0 degrees for stages 1 to 3; turned to 90 degrees by welder in 3.5 s for stage 4; turned to -22.5',
      '       degrees by welder in 4.8 s for stage 5',
    ]);
  });

  it('are not spoken of where the table stands still, and are none where it stays', () => {
    expect(turnLines(planAt(undefined, undefined))).toEqual([]);
    expect(turnLines(planAt(0, 0))).toEqual(['', 'Table: at 0 degrees for stages 1, 2']);
  });
});

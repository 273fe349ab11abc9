import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { programsTrue } from '../../src/rules/programs-true.js';
import { reach } from '../../src/rules/reach.js';
import type { Rule } from '../../src/rules/rule.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';

let programs: LinearPrograms;
let plan: GeometricPlan;
beforeAll(async () => {
  programs = await loadLinearPrograms();
  plan = handMadePlan(programs);
});

type Move = Extract<Step, { do: 'move' }>;

/** Steps of one robot after a change, numbered again; what a rule says of them. */
function judge(rule: Rule, robot: number, change: (steps: Step[]) => void): string[] {
  const copy = structuredClone(plan);
  const { steps } = copy.programs[robot]!;
  change(steps);
  steps.forEach((step, i) => (step.n = i + 1));
  return rule.judge(contextOf(copy, programs)).map(({ message }) => message);
}

const isMove = (step: Step): step is Move => step.do === 'move';
const firstMove = (steps: readonly Step[], fits: (move: Move) => boolean): number =>
  steps.findIndex((step) => isMove(step) && fits(step));
const via = (like: Step, path: Move['path'] = 'joint'): Move => ({
  ...structuredClone(like as Move),
  path,
  via: true,
});

const HANDLER = 0;
const WELDER = 1;

describe('via points', () => {
  it('are free before any joint move, as many as one likes, to any place', () => {
    const added = judge(programsTrue, HANDLER, (steps) => {
      const first = firstMove(steps, ({ path }) => path === 'joint');
      const [one, two] = [via(steps[first]!), via(steps[first]!, 'straight')];
      one.to[0] += 5;
      two.to[1] -= 5;
      steps.splice(first, 0, one, two);
    });
    expect(added).toEqual([]);
  });

  it('are none before a straight stroke', () => {
    const added = judge(programsTrue, HANDLER, (steps) => {
      const [stroke, before] = ['straight', 'joint'].map((way) =>
        firstMove(steps, ({ path }) => path === way),
      );
      steps.splice(stroke!, 0, via(steps[before!]!));
    });
    expect(added).toEqual(['step 3 of handler: a via point where a straight stroke is asked for']);
  });

  it('lead to the joints that the stage has, and do not stand for them', () => {
    const gone = judge(programsTrue, WELDER, (steps) => {
      const end = firstMove(steps, ({ path, via: between }) => path === 'straight' && between === undefined);
      steps.splice(end, 1);
    });
    expect(gone).toHaveLength(1);
    const elsewhere = judge(programsTrue, WELDER, (steps) => {
      const end = steps[
        firstMove(steps, ({ path, via: between }) => path === 'straight' && !between)
      ] as Move;
      end.to[0] += 1;
    });
    expect(elsewhere[0]).toContain('a move to joints other than the stage has for it');
  });

  it('let the last leg be straight, which it may not be without them', () => {
    expect(judge(programsTrue, WELDER, () => undefined)).toEqual([]);
    const without = judge(programsTrue, WELDER, (steps) => {
      steps.splice(
        firstMove(steps, ({ via: between }) => between === true),
        1,
      );
    });
    expect(without[0]).toContain('a straight move instead of a joint one');
  });

  it('belong to the stage of the move that they lead to', () => {
    const strange = judge(programsTrue, WELDER, (steps) => {
      steps[firstMove(steps, ({ via: between }) => between === true)]!.stage += 1;
    });
    expect(strange[0]).toContain('at stage 3 instead of 2');
  });
});

describe('the rule on reach', () => {
  it('wants via points inside the limits', () => {
    expect(judge(reach, WELDER, () => undefined)).toEqual([]);
    const past = judge(reach, WELDER, (steps) => {
      const between = steps[firstMove(steps, (move) => move.via === true)] as Move;
      between.to[3] = 203;
    });
    expect(past).toContain('joint 4 of welder at 203 degrees; its limit is 200');
  });

  it('asks nothing of the wrist at a via point of joint moves', () => {
    const added = judge(reach, HANDLER, (steps) => {
      const point = via(steps[0]!);
      point.to[4] = 0;
      steps.splice(0, 0, point);
    });
    expect(added).toEqual([]);
  });

  it('wants straight legs to stay in one branch', () => {
    const turned = judge(reach, WELDER, (steps) => {
      const leg = steps[
        firstMove(steps, ({ path, via: between }) => path === 'straight' && !between)
      ] as Move;
      // The same place of the torch with the wrist over: no straight way leads there.
      leg.to[3] += leg.to[3] > 0 ? -180 : 180;
      leg.to[4] *= -1;
      leg.to[5] += leg.to[5] > 0 ? -180 : 180;
    });
    expect(turned.some((message) => message.includes('another branch or another turn'))).toBe(true);
  });
});

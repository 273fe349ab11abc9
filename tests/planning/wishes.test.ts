import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import type { ObjectiveTerm } from '../../src/model/settings.js';
import type { Weldment } from '../../src/model/weldment.js';
import { OrderCompleter } from '../../src/planning/complete.js';
import { OrderProblem } from '../../src/planning/order-problem.js';
import { factsOf } from '../../src/planning/plan.js';
import { hasManyWishes } from '../../src/planning/stage-wishes.js';
import { planSession } from '../../src/session/plan.js';
import { wishStages } from '../../src/rules/wishes-true.js';
import { inputsOf, planIn, sourcesOf, story } from '../support/planned.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** The plan of a story under wishes of the settings; every plan passes the rules before it is given out. */
const planWith = (name: string, wishes: string): GeometricPlan => {
  const settings = { text: `wishes: [${wishes}]\n`, name: 'settings.yaml' };
  return planIn(planSession({ ...sourcesOf(story(name)), settings }, { programs, steps: 400 }));
};

const middlesOf = (plan: GeometricPlan, part: string) =>
  wishStages(plan)
    .find((stage) => stage.part === part)!
    .tacks.map(({ middle }) => middle);

describe('a plan with a hard wish', () => {
  it.each([
    ['{ before: [north, south] }'],
    ['{ first: mid, never: true }'],
    ['{ grip: south, position: [-35, 0], face: +z }'],
    ['{ grip: south, position: [-35, 0], face: +z, never: true }'],
    ['{ held: south }'],
    ['{ tack: [base, south], near: [-26, -130, 10], within: 6 }'],
    ['{ tack: [base, south], near: [-36, -130, 10], within: 6, never: true }'],
  ])('keeps it: %s', (wish) => {
    const plan = planWith('one-tool-change', wish);
    expect(plan.wishes).toEqual([expect.objectContaining({ from: 'settings', kept: true })]);
    expect(plan.objective.map(({ term }) => term)).not.toContain('wishes');
  });

  it('takes no tack more for a place where the fewest can be', () => {
    const wish = '{ tack: [base, south], near: [-26, -130, 10], within: 6 }';
    const free = middlesOf(planWith('one-tool-change', '{ first: base }'), 'south');
    const pinned = middlesOf(planWith('one-tool-change', wish), 'south');
    const isThere = (at: readonly number[]): boolean => Math.hypot(at[0]! + 26, at[1]! + 130) <= 6;
    expect([free, pinned].map((tacks) => tacks.filter(isThere).length)).toEqual([0, 1]);
    expect(pinned).toHaveLength(free.length);
  });

  it('for a tack is kept on the seam that another one leaves room on', () => {
    // The first would do on either seam; on the one at y of -130 it would take the place of the second.
    const either = '{ tack: [base, south], near: [-26, -100, 10], within: 31 }';
    const outer = '{ tack: [base, south], near: [-16, -130, 10], within: 6 }';
    const plan = planWith('one-tool-change', `${either}, ${outer}`);
    expect(plan.wishes!.map(({ kept }) => kept)).toEqual([true, true]);
  });

  it('is told as impossible where two tacks of a seam leave no room for one in the middle', () => {
    const text = 'wishes: [{ tack: [base, south], near: [0, -130, 10], within: 15 }]';
    const settings = { text, name: 'settings.yaml' };
    const sources = { ...sourcesOf(story('one-tool-change')), settings };
    expect(planSession(sources, { programs, steps: 400 }).kind).toBe('impossible');
  });
});

describe('a soft wish', () => {
  it('that the cheapest grip breaks is kept by another one, though the plan does not cost less by it', () => {
    const other = planWith('one-tool-change', '{ first: base }');
    const used = wishStages(other).find(({ part }) => part === 'south')!.grip!.position!;
    const wish = `{ grip: south, face: +z, position: [${-used[0]}, 0], soft: true }`;
    const plan = planWith('one-tool-change', wish);
    expect(plan.wishes!.map(({ kept }) => kept)).toEqual([true]);
    expect(plan.objective[0]).toMatchObject({ term: 'wishes', value: 0 });
  });

  it('that no grip of its part and no site of its joint can keep is in the bound before anything is in place', () => {
    const files = story('one-tool-change');
    const soft = { soft: true };
    const bound = (...wishes: readonly object[]): number => {
      files.weldment.wishes = wishes.map((wish) => ({ ...wish, ...soft }));
      const { weldment, cell, settings } = inputsOf(files);
      const facts = factsOf(weldment as Weldment, cell!, settings, programs);
      const problem = new OrderProblem(facts, new OrderCompleter(facts));
      expect(problem.bound({ ...problem.start, inPlace: new Uint32Array([0b1111]), first: 0 })[0]).toBe(0);
      return problem.bound(problem.start)[0]!;
    };
    const tack = { tack: ['base', 'south'], near: [0, -130, 10] };
    expect(bound({ grip: 'south', gripper: 'wide', weight: 7 })).toBe(7);
    expect(bound({ grip: 'south', gripper: 'small', never: true, weight: 3 }, { ...tack, within: 1 })).toBe(
      4,
    );
    expect(bound({ grip: 'south', gripper: 'small' }, tack, { ...tack, near: [0, 0, 0], never: true })).toBe(
      0,
    );
    expect(bound({ before: ['north', 'mid'] }, { before: ['mid', 'north'] }, { ...tack, within: 1 })).toBe(2);
  });

  it('that nothing can keep is broken, counted and said so', () => {
    const plan = planWith('one-tool-change', '{ grip: south, gripper: wide, soft: true, weight: 7 }');
    expect(plan.wishes!.map(({ kept }) => kept)).toEqual([false]);
    expect(plan.objective[0]).toMatchObject({ term: 'wishes', value: 7 });
  });

  it('is kept by the cheapest way to keep it alone, though the way that another wish asks for keeps it too', () => {
    const files = story('one-tool-change');
    const at = (x: number) => ({ gripper: 'small', face: '+z', position: [x, 0] });
    files.weldment.parts.south!.grips = [36, -35, 35].map(at);
    const soft = [
      { grip: 'south', ...at(35) },
      { grip: 'south', ...at(36), never: true },
    ];
    files.weldment.wishes = soft.map((wish) => ({ ...wish, soft: true }));
    const { weldment, cell, settings } = inputsOf(files);
    const used = { ...settings, objective: ['regrips', 'tool-changes', 'time', 'wishes'] as ObjectiveTerm[] };
    const facts = factsOf(weldment as Weldment, cell!, used, programs);
    const problem = new OrderProblem(facts, new OrderCompleter(facts));
    const [begun] = problem.joining(facts.scene.index.get('base')!, problem.start);
    const moves = [...problem.joining(facts.scene.index.get('south')!, begun!.to)];
    const costs = moves.map(({ step, cost }) => [step.manual ? 0 : step.way.grip.position[0], cost[2]]);
    expect(costs.map(([x]) => x)).toEqual([36, 35, -35]);
    expect(costs[2]![1]).toBeLessThan(costs[1]![1]!);
  });

  it('among more than three about one stage narrows what a plan claims', () => {
    const files = story('one-tool-change');
    const many = (count: number): boolean => {
      files.weldment.wishes = [35, -35, 20, -20]
        .slice(0, count)
        .map((x) => ({ grip: 'south', face: '+z', position: [x, 0], soft: true }));
      const { weldment, cell, settings } = inputsOf(files);
      return hasManyWishes(factsOf(weldment as Weldment, cell!, settings, programs));
    };
    expect([3, 4].map(many)).toEqual([false, true]);
  });
});

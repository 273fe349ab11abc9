import { beforeAll, describe, expect, it } from 'vitest';
import { addCost, compareCost, earlierCost, unreachableCost, zeroCost } from '../../src/algorithms/cost.js';
import type { Cost } from '../../src/algorithms/problem.js';
import { search } from '../../src/algorithms/search.js';
import { Budget } from '../../src/base/budget.js';
import { emptySet, withMember } from '../../src/base/part-set.js';
import { Holdings } from '../../src/planning/holding.js';
import { factsOf } from '../../src/planning/plan.js';
import { orderPaths, orderProblemOf } from '../support/order-paths.js';
import {
  ENOUGH_STEPS,
  exampleWith,
  inputsOf,
  Planner,
  story,
  type CellEntries,
  type Files,
} from '../support/planned.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

/** The cell with a second handling robot beside the table, and another gripper of each kind for it. */
function withSecond(cell: CellEntries): CellEntries {
  const { handler, ...others } = cell.robots;
  const second = { ...handler!, at: [0, -1350, 0], turn: [0, 0, 90] } as CellEntries['robots'][string];
  const more = Object.entries(cell.grippers).map(([id, gripper]) => [`${id}-2`, gripper] as const);
  return {
    ...cell,
    robots: { handler: handler!, second, ...others },
    grippers: { ...cell.grippers, ...Object.fromEntries(more) },
  };
}

function smallFiles(...kept: readonly string[]): { readonly one: Files; readonly two: Files } {
  const one = exampleWith('roller-stand', ...kept);
  return { one, two: { ...one, cell: withSecond(one.cell) } };
}

describe('two handling robots', () => {
  const { one, two } = smallFiles('base', 'cheek-left', 'cheek-right');

  it('take turns where that is quicker, and each fetches while the other brings', () => {
    const [alone, together] = [planner.plan(one), planner.plan(two)];
    expect(new Set(together.stages.map(({ robot }) => robot))).toEqual(new Set(['handler', 'second']));
    expect(together.programs.map(({ robot }) => robot)).toEqual(['handler', 'second', 'welder']);
    expect(together.timeline.makespan).toBeLessThan(alone.timeline.makespan);
    expect(new Set(alone.stages.map(({ robot }) => robot))).toEqual(new Set(['handler']));
  });

  it('answer each for its own accuracy, also with the same gripper on the same face', () => {
    const cell = structuredClone(two.cell);
    cell.robots['second']!['accuracy'] = 0.3;
    const { weldment, cell: read, settings } = inputsOf({ ...two, cell });
    if (weldment.kind !== 'geometric' || !read) throw new Error('the files have no shapes');
    const facts = factsOf(weldment, read, settings, planner.programs);
    const [base, cheek] = ['base', 'cheek-left'].map((id) => facts.scene.index.get(id)!) as [number, number];
    const nothing = emptySet(facts.scene.parts.length);
    const among = { first: base, parts: withMember(nothing, base), located: nothing, seated: nothing };
    const { gripper, face } = facts.grips(cheek)[0]!.candidate;
    const sources = ['handler', 'second'].map((id) => {
      const robot = read.handlers.find((one) => one.id === id)!;
      const { candidate: grip } = facts
        .grips(cheek)
        .find(({ candidate }) => candidate.robot === robot && candidate.gripper === gripper)!;
      const fit = facts.fitUp(cheek, [{ ...grip, face }], facts.spots(cheek)[0]!, among);
      if (!fit.ok) throw new Error(fit.error.code);
      return fit.value.stated.find(({ direction }) => direction === 'in-plane')!.chain;
    });
    expect(sources[0]).toContainEqual({ source: 'handler', mm: 0.1 });
    expect(sources[1]).toContainEqual({ source: 'second', mm: 0.3 });
  });

  it('never have a bound or moves that cost more than the rest of an order, and the search finds the best', () => {
    const problem = orderProblemOf(two, planner.programs);
    let least: Cost = unreachableCost(problem.terms);
    let judged = 0;
    for (const moves of orderPaths(problem)) {
      let rest = zeroCost(problem.terms);
      const states = [problem.start, ...moves.map(({ to }) => to)];
      for (let i = moves.length; i >= 0; i -= 1) {
        expect(compareCost(problem.bound(states[i]!), rest)).toBeLessThanOrEqual(0);
        if (i > 0) rest = addCost(moves[i - 1]!.cost, rest);
      }
      const completed = problem.complete(moves.map(({ step }) => step));
      if (completed.kind !== 'legal') continue;
      expect(compareCost(rest, completed.cost)).toBeLessThanOrEqual(0);
      least = earlierCost(least, completed.cost);
      judged += 1;
    }
    expect(judged).toBeGreaterThan(1);
    const report = search(orderProblemOf(two, planner.programs), {
      budget: new Budget({ steps: ENOUGH_STEPS }),
    });
    expect(report.outcome).toBe('optimal');
    expect(report.best!.cost).toEqual(least);
  });

  it('are told what rules a plan out as one robot is: a plate that nothing but its base could carry', () => {
    const { weldment, cell } = smallFiles('base', 'cheek-left').two;
    const joints = weldment.joints.map((joint) => ({ ...joint, sides: 'one' }));
    const outcome = planner.outcome({ cell, weldment: { ...weldment, joints } });
    const kinds = outcome.kind === 'impossible' ? outcome.reasons.map(({ fact }) => fact?.kind) : [];
    expect(kinds.sort()).toEqual(['hold', 'reserve']);
  });
});

describe('a part that is held on until the next one comes', () => {
  it('needs a gripper that keeps it long enough after a power loss, as every hold does', () => {
    const files = story('two-robots-two-holds');
    const codes = [60, 30].map((seconds) => {
      const cell = structuredClone(files.cell);
      for (const gripper of Object.values(cell.grippers))
        Object.assign(gripper, { 'on-power-loss': 'stored-seconds', 'stored-seconds': seconds });
      const { weldment, cell: read, settings } = inputsOf({ ...files, cell });
      if (weldment.kind !== 'geometric' || !read) throw new Error('the files have no shapes');
      const facts = factsOf(weldment, read, settings, planner.programs);
      const [base, long] = ['base', 'long'].map((id) => facts.scene.index.get(id)!) as [number, number];
      const inPlace = withMember(emptySet(facts.scene.parts.length), base);
      const held = new Holdings(facts).keeping(
        { part: long, inPlace, clamped: base },
        { grip: facts.usableGrips(long)[0]! },
      );
      return held.ok ? 'held' : held.error.code;
    });
    expect(codes[0]).not.toBe('kept-too-briefly');
    expect(codes[1]).toBe('kept-too-briefly');
  });
});

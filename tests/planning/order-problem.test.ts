import { beforeAll, describe, expect, it } from 'vitest';
import { addCost, compareCost, earlierCost, unreachableCost, zeroCost } from '../../src/algorithms/cost.js';
import type { Cost, SearchProblem, SearchReport } from '../../src/algorithms/problem.js';
import { search } from '../../src/algorithms/search.js';
import { Budget } from '../../src/base/budget.js';
import type { Facts } from '../../src/facts/facts.js';
import type { ObjectiveTerm } from '../../src/model/settings.js';
import { OrderCompleter, type CompleteOrder } from '../../src/planning/complete.js';
import { OrderProblem } from '../../src/planning/order-problem.js';
import type { OrderState } from '../../src/planning/order-state.js';
import { factsOf } from '../../src/planning/plan.js';
import type { StageDraft } from '../../src/planning/stage-draft.js';
import { orderPaths } from '../support/order-paths.js';
import { ENOUGH_STEPS, example, exampleWith, inputsOf, Planner, type Files } from '../support/planned.js';

type Problem = SearchProblem<OrderState, StageDraft, CompleteOrder>;

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

function factsFor(files: Files, objective?: readonly ObjectiveTerm[]): Facts {
  const { weldment, cell, settings } = inputsOf(files);
  if (weldment.kind !== 'geometric' || !cell) throw new Error('the files have no shapes');
  const used = objective ? { ...settings, objective: [...objective] } : settings;
  return factsOf(weldment, cell, used, planner.programs);
}

const problemOf = (facts: Facts): OrderProblem => new OrderProblem(facts, new OrderCompleter(facts));

const searched = (problem: Problem): SearchReport<StageDraft, CompleteOrder> =>
  search(problem, { budget: new Budget({ steps: ENOUGH_STEPS }) });

/** The same problem without its bound. */
const unbounded = (problem: OrderProblem): Problem => ({
  terms: problem.terms,
  start: problem.start,
  layers: problem.layers,
  layer: (state) => problem.layer(state),
  key: (state) => problem.key(state),
  transitions: (state) => problem.transitions(state),
  bound: () => zeroCost(problem.terms),
  complete: (drafts) => problem.complete(drafts),
});

const SMALL = [
  { of: 'roller-stand', kept: ['base', 'cheek-left', 'cheek-right', 'web'] },
  { of: 'roller-stand', kept: ['base', 'cheek-left', 'cheek-right', 'gusset'] },
  { of: 'box-beam', kept: ['bottom', 'rail-left', 'rail-right', 'diaphragm'] },
] as const;
const OBJECTIVES: readonly ObjectiveTerm[][] = [
  ['regrips', 'tool-changes', 'time'],
  ['tool-changes', 'time', 'regrips'],
];

describe.each(SMALL)('of $of the parts $kept', ({ of, kept }) => {
  const files = exampleWith(of, ...kept);

  it.each(OBJECTIVES)('are searched to what trying all orders finds: %s, %s, %s', (...objective) => {
    const facts = factsFor(files, objective);
    const problem = problemOf(facts);
    let least: Cost = unreachableCost(problem.terms);
    for (const moves of orderPaths(problem)) {
      const completed = problem.complete(moves.map(({ step }) => step));
      if (completed.kind === 'legal') least = earlierCost(least, completed.cost);
    }
    const report = searched(problemOf(facts));
    expect(report.outcome).toBe('optimal');
    expect(report.best!.cost).toEqual(least);
  });

  it('have no state whose bound is above what the rest of any order costs', () => {
    const problem = problemOf(factsFor(files));
    let judged = 0;
    for (const moves of orderPaths(problem)) {
      let rest = zeroCost(problem.terms);
      const states = [problem.start, ...moves.map(({ to }) => to)];
      for (let i = moves.length; i >= 0; i -= 1) {
        expect(compareCost(problem.bound(states[i]!), rest)).toBeLessThanOrEqual(0);
        if (i > 0) rest = addCost(moves[i - 1]!.cost, rest);
        judged += 1;
      }
    }
    expect(judged).toBeGreaterThan(0);
  });
});

const NO_REGRIP = ['base', 'cheek-left', 'cheek-right', 'gusset'] as const;

/** `saves` where the bound sees what costs: regrips that only holds ask for, as in box-beam, are not in it. */
const BOUNDED = [
  { of: 'parts that need no regrip', files: exampleWith('roller-stand', ...NO_REGRIP), saves: true },
  {
    of: 'these and the web',
    files: exampleWith('roller-stand', ...NO_REGRIP, 'web'),
    saves: true,
  },
  { of: 'roller-stand', files: example('roller-stand'), saves: true },
  { of: 'box-beam', files: example('box-beam'), saves: false },
];

describe.each(BOUNDED)('the bound of $of', ({ files, saves }) => {
  it(`says something at the start${saves ? ' and saves states' : ''}`, () => {
    const facts = factsFor(files);
    const problem = problemOf(facts);
    expect(problem.bound(problem.start).some((term) => term > 0)).toBe(true);
    const [bounded, blind] = [searched(problem), searched(unbounded(problemOf(facts)))];
    expect([bounded.outcome, blind.outcome]).toEqual(['optimal', 'optimal']);
    expect(blind.best!.cost).toEqual(bounded.best!.cost);
    const more = blind.counters.expanded - bounded.counters.expanded;
    expect(more).toBeGreaterThanOrEqual(saves ? 1 : 0);
  });
});

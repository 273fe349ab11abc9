import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Transition } from '../../src/algorithms/problem.js';
import { OrderCompleter } from '../../src/planning/complete.js';
import { OrderProblem } from '../../src/planning/order-problem.js';
import { factsOf } from '../../src/planning/plan.js';
import { inputsOf, type Files } from './planned.js';

type State = OrderProblem['start'];
type Step = Parameters<OrderProblem['complete']>[0][number];

/** The order of a weldment with shapes as the planner searches it. */
export function orderProblemOf(files: Files, programs: LinearPrograms): OrderProblem {
  const { weldment, cell, settings } = inputsOf(files);
  if (weldment.kind !== 'geometric' || !cell) throw new Error('the files have no shapes');
  const facts = factsOf(weldment, cell, settings, programs);
  return new OrderProblem(facts, new OrderCompleter(facts));
}

/** Every path to a whole order, with the moves along it. */
export function* orderPaths(
  problem: OrderProblem,
  state = problem.start,
  taken: readonly Transition<State, Step>[] = [],
): Generator<Transition<State, Step>[]> {
  if (problem.layer(state) === problem.layers) yield [...taken];
  else for (const move of problem.transitions(state)) yield* orderPaths(problem, move.to, [...taken, move]);
}

import type { Transition } from '../algorithms/problem.js';
import { has } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { CompleteOrder } from './complete.js';
import type { OrderProblem } from './order-problem.js';
import type { OrderState } from './order-state.js';
import type { StageDraft } from './stage-draft.js';
import { moreAsked, type StartStage, type StartWay } from './start-way.js';

/** How many parts are tried to be put in place for each part of the weldment, and how many whole orders; our choice. */
const TRIES = 12;
const MOST_JUDGED = 3;

type Move = Transition<OrderState, StageDraft>;

/**
 * A whole legal order that takes up a way to build as far as it is legal: its parts in its order, each as it says; where that
 * cannot be had, in another way, and where the part cannot come yet, after the next. Undefined where none is found so within
 * a few tries.
 */
export function takenUp(facts: Facts, problem: OrderProblem, way: StartWay): CompleteOrder | undefined {
  const { index, parts } = facts.scene;
  const known = way.order.flatMap((part) => index.get(part) ?? []);
  const order = [...new Set([...known, ...parts.keys()])];
  const stageOf = new Map(way.stages.map((stage) => [index.get(stage.part), stage]));
  let tries = TRIES * parts.length;
  let judged = 0;
  const goOn = (state: OrderState, drafts: readonly StageDraft[]): CompleteOrder | undefined => {
    if (state.count === parts.length) {
      judged += 1;
      const said = problem.complete(drafts);
      return said.kind === 'legal' ? said.result : undefined;
    }
    for (const part of order) {
      if (has(state.inPlace, part)) continue;
      tries -= 1;
      if (tries < 0 || judged >= MOST_JUDGED) return undefined;
      const stage = stageOf.get(part);
      for (const { to, step } of likest(
        problem.joining(part, state, stage && moreAsked(facts, stage)),
        stage,
      )) {
        const found = goOn(to, [...drafts, step]);
        if (found || tries < 0 || judged >= MOST_JUDGED) return found;
      }
    }
    return undefined;
  };
  return goOn(problem.start, []);
}

/** Moves with those first that leave the table at the index angle of the stage; each is judged only when it is come to. */
function* likest(moves: Iterable<Move>, stage: StartStage | undefined): Iterable<Move> {
  const angle = stage?.angle ?? 0;
  const others: Move[] = [];
  for (const move of moves) {
    if (move.step.angle === angle) yield move;
    else others.push(move);
  }
  yield* others;
}

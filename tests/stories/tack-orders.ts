import type { Stage } from '../../src/model/plan.js';
import type { Planned } from './expectation.js';

const inOrder = ({ tacks }: Stage) => [...tacks].sort((p, q) => p.order - q.order);

/** Why the tacks of a stage with two seams do not begin on both of them in turn; empty where they do. */
function notInTurn(stage: Stage): string[] {
  const [first, second] = inOrder(stage).map(({ seam }) => seam);
  return first !== second ? [] : [`the first two tacks of ${stage.part} are both on ${first}`];
}

/** Why the first two tacks of a stage with one seam are not those at its ends; empty where they are. */
function notEndsFirst(stage: Stage): string[] {
  const starts = inOrder(stage).map(({ start }) => start);
  const outer = [Math.min(...starts), Math.max(...starts)];
  const first = starts.slice(0, 2).sort((a, b) => a - b);
  return first.join() === outer.join()
    ? []
    : [`the tacks of ${stage.part} begin at ${first.join()} mm; the ends are ${outer.join()}`];
}

/** Why the order of a stage does not leave so many mm less than the best habit; empty where it does. */
function notBetter({ part, tackOrder }: Stage, least: number): string[] {
  if (tackOrder === undefined) return [`no orders are compared for ${part}`];
  const best = Math.min(...tackOrder.habits.map(({ predicted }) => predicted ?? Infinity));
  const gain = best - (tackOrder.predicted ?? Infinity);
  return gain >= least ? [] : [`the order of ${part} leaves ${gain} mm less than habits; expected ${least}`];
}

/** What differs from what a story says of the orders of tacks. */
export const tackOrderDifferences = (stageOf: (part: string) => Stage, expected: Planned): string[] => [
  ...(expected['sides-in-turn'] ?? []).flatMap((part) => notInTurn(stageOf(part))),
  ...(expected['ends-first'] ?? []).flatMap((part) => notEndsFirst(stageOf(part))),
  ...Object.entries(expected['better-than-habits'] ?? {}).flatMap(([part, least]) =>
    notBetter(stageOf(part), least),
  ),
];

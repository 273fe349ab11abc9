import { isOne, MixedInteger, type Highs, type Sum } from './mixed-integer.js';
import type { OrderFound, OrderingModel } from './ordering-model.js';

/**
 * The time-dependent formulation of Picard and Queyranne (1978): a unit of flow through a network with a layer for each
 * place, a binary for each arc at each place. Precedence says for each place that the later node is not there before
 * the earlier one; windows leave out what no order can use.
 */
export function orderingByPositions(model: OrderingModel, highs: Highs, patience: number): OrderFound {
  const { arcs, precedence } = model;
  const { earliest, latest, covers } = precedence;
  const program = new MixedInteger();
  const nodes = earliest.map((_, i) => i);
  const last = nodes.length - 1;
  const steps = arcs.flatMap(({ from, to, cost }) => {
    const first = Math.max(earliest[from]!, earliest[to]! - 1);
    const final = Math.min(latest[from]!, latest[to]! - 1);
    return Array.from({ length: Math.max(0, final - first + 1) }, (_, i) => ({
      from,
      to,
      place: first + i,
      column: program.binary(cost),
    }));
  });
  const sum = (test: (step: (typeof steps)[number]) => boolean): Sum =>
    steps.filter(test).map(({ column }) => [column, 1]);
  /** The columns that say that a node stands at a place, by the arc that leads there. */
  const stands = nodes.map((i) =>
    nodes.map((place) => sum(({ to, place: at }) => to === i && at + 1 === place)),
  );
  for (const i of nodes.slice(1)) program.equal(stands[i]!.flat(), [], 1);
  program.equal(
    sum(({ from }) => from === 0),
    [],
    1,
  );
  for (const i of nodes.slice(1, last))
    for (let place = earliest[i]!; place <= latest[i]!; place += 1)
      program.equal(
        stands[i]![place]!,
        sum(({ from, place: at }) => from === i && at === place),
      );
  for (const [a, b] of covers) {
    if (a === 0 || b === last) continue;
    for (let place = earliest[b]!; place <= latest[a]!; place += 1)
      program.atMost(stands[b]!.slice(0, place + 1).flat(), stands[a]!.slice(0, place).flat());
  }
  const solved = program.minimise(highs, patience);
  if (solved.status !== 'optimal') return solved;
  const taken = steps.filter(({ column }) => isOne(solved.values, column));
  const order = [0, ...taken.sort((a, b) => a.place - b.place).map(({ to }) => to)];
  return { status: 'optimal', order, firstAfter: solved.firstAfter };
}

import { isOne, MixedInteger, type Highs, type Sum } from './mixed-integer.js';
import type { OrderFound, OrderingModel } from './ordering-model.js';
import { precedenceColumns } from './precedence-columns.js';

/**
 * Arc-based: a binary for each arc, each node left and reached once, with the sequence variables of Miller, Tucker and
 * Zemlin (1960) and a binary for each pair of nodes (`precedenceColumns`).
 */
export function orderingByArcs(
  { arcs, precedence }: OrderingModel,
  highs: Highs,
  patience: number,
): OrderFound {
  const program = new MixedInteger();
  const size = precedence.before.length;
  const columns = arcs.map(({ from, to, cost }) => ({ from, to, column: program.binary(cost) }));
  const sum = (test: (arc: (typeof columns)[number]) => boolean): Sum =>
    columns.filter(test).map(({ column }) => [column, 1]);
  for (let i = 0; i < size; i += 1) {
    if (i > 0)
      program.equal(
        sum(({ to }) => to === i),
        [],
        1,
      );
    if (i < size - 1)
      program.equal(
        sum(({ from }) => from === i),
        [],
        1,
      );
  }
  const arc = new Map(columns.map(({ from, to, column }) => [from * size + to, column]));
  precedenceColumns(program, precedence, (a, b) => {
    const column = arc.get(a * size + b);
    return column === undefined ? [] : [[column, 1]];
  });
  const solved = program.minimise(highs, patience);
  if (solved.status !== 'optimal') return solved;
  const next = new Map(
    columns.filter(({ column }) => isOne(solved.values, column)).map(({ from, to }) => [from, to]),
  );
  const order = [0];
  for (let at = next.get(0); at !== undefined; at = next.get(at)) order.push(at);
  return { status: 'optimal', order, firstAfter: solved.firstAfter };
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCost, subtractCost } from '../../../src/algorithms/cost.js';
import { beam } from '../../../src/algorithms/solvers/beam.js';
import { depthFirst } from '../../../src/algorithms/solvers/depth-first.js';
import { restrictedProblem } from '../../../src/algorithms/solvers/restricted.js';
import { setProgramming } from '../../../src/algorithms/solvers/set-programming.js';
import { walkPath } from '../../../src/algorithms/solvers/walked-path.js';
import { Budget } from '../../../src/base/budget.js';
import { allPaths, anyOrder, anyPacking, leastCost, packed, type SmallOrder } from './small-problems.js';

const drawn = fc.record({ pick: fc.nat(), freed: fc.nat(255), from: fc.nat(6), length: fc.nat(6) });
const options = () => ({ budget: new Budget({ steps: 1e6 }), memory: 1e7, seed: 1 });

/** Straight from the listing: the same moves outside of the window, the same order of the not-freed items in it. */
function keeps(
  order: SmallOrder,
  base: readonly number[],
  moves: readonly number[],
  freed: ReadonlySet<number>,
  [from, to]: readonly [number, number],
): boolean {
  const fixed = (path: readonly number[]): string =>
    path
      .slice(from, to)
      .map((move) => order.itemOf[move]!)
      .filter((item) => !freed.has(item))
      .join();
  const outside = base.every((move, at) => (at >= from && at < to) || moves[at] === move);
  return outside && fixed(base) === fixed(moves);
}

describe('a restricted problem', () => {
  it.each(Object.entries({ beam, depthFirst, setProgramming }))(
    'is what the listing says, by %s',
    (_, solver) => {
      fc.assert(
        fc.property(anyOrder, anyPacking, drawn, (order, packing, { pick, freed, from, length }) => {
          const paths = allPaths(order);
          const base = paths[pick % paths.length];
          if (base === undefined) return;
          const problem = packed(order, { ...packing, sharpens: false });
          const window = {
            from: from % order.items,
            to: Math.min(order.items, (from % order.items) + 1 + length),
          };
          const free = new Set(
            order.before.map((_, item) => item).filter((item) => ((freed >>> item) & 1) === 1),
          );
          const path = walkPath(problem, base.moves);
          const flags = Uint8Array.from(order.before, (_, item) => (free.has(item) ? 1 : 0));
          const report = solver(restrictedProblem(problem, path, flags, window), options());

          const range = [window.from, window.to] as const;
          const least = leastCost(
            paths.filter(({ moves }) => keeps(order, base.moves, moves, free, range)).map(({ cost }) => cost),
          )!;
          const before = walkPath(problem, base.moves).costs.subarray(
            window.from * order.terms,
            (window.from + 1) * order.terms,
          );
          expect(report.outcome).toBe('optimal');
          expect(report.best!.cost).toEqual(subtractCost(least, Array.from(before)));
          const whole = [
            ...base.moves.slice(0, window.from),
            ...report.best!.steps,
            ...base.moves.slice(window.to),
          ];
          const found = paths.find(({ moves }) => moves.join() === whole.join());
          expect(found && compareCost(found.cost, least)).toBe(0);
        }),
        { numRuns: 400, seed: 31 },
      );
    },
  );
});

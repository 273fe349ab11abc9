import { describe, expect, it } from 'vitest';
import {
  bestOrderAndWays,
  type SequenceProblem,
  type SequenceStep,
} from '../../src/algorithms/sequence-search.js';
import { seededRandom } from '../../src/base/random.js';

/** Items with signed weights: what is worth least is the sequence whose running sums stay nearest to zero. */
function balancing(weights: readonly number[], ways = 2): SequenceProblem<readonly number[]> {
  const worst = (sums: readonly number[]): number => Math.max(...sums.map(Math.abs));
  return {
    ways: weights.map(() => ways),
    costs: weights.map(() => 1),
    start: [0],
    // The second way turns an item over.
    extend: (sums, { item, way }) => [...sums, sums.at(-1)! + (way === 0 ? 1 : -0.5) * weights[item]!],
    score: (sums) => Math.abs(sums.at(-1)!),
    value: worst,
  };
}

/** The least value over everything, by plain recursion. */
function byForce<S>({ ways, start, extend, value }: SequenceProblem<S>): number {
  const go = (state: S, open: readonly number[]): number =>
    open.length === 0
      ? value(state)
      : Math.min(
          ...open.flatMap((item) =>
            Array.from({ length: ways[item]! }, (_, way) =>
              go(
                extend(state, { item, way }),
                open.filter((other) => other !== item),
              ),
            ),
          ),
        );
  return go(start, [...ways.keys()]);
}

const inOrder = (count: number): SequenceStep[] =>
  Array.from({ length: count }, (_, item) => ({ item, way: 0 }));

describe('sequence search', () => {
  it('finds the least of all where it can try all', () => {
    const random = seededRandom(3);
    for (let trial = 0; trial < 20; trial += 1) {
      const problem = balancing(Array.from({ length: 4 }, () => random() * 2 - 1));
      const report = bestOrderAndWays(problem, [], 10_000);
      expect(report.method).toBe('every-order-and-way');
      expect(report.tried).toBe(24 * 16);
      expect(report.best.value).toBeCloseTo(byForce(problem), 3);
    }
  });

  it('tries all orders, then ways, with less of a budget', () => {
    const report = bestOrderAndWays(balancing([3, -2, 1, -1, 2]), [inOrder(5)], 1500);
    expect(report.method).toBe('every-order');
    expect(report.tried).toBeGreaterThan(120);
    expect(report.best.value).toBeLessThanOrEqual(byForce(balancing([3, -2, 1, -1, 2], 1)));
  });

  it('is never worse than what it is given, nor than a greedy choice, whatever the budget', () => {
    const random = seededRandom(8);
    const weights = Array.from({ length: 12 }, () => random() * 2 - 1);
    const problem = balancing(weights);
    const known = inOrder(12);
    const valueOf = (steps: readonly SequenceStep[]): number =>
      problem.value(
        steps.reduce<readonly number[]>((state, step) => problem.extend(state, step), problem.start),
      );
    for (const budget of [1, 50, 400, 5000]) {
      const { best, worst, method } = bestOrderAndWays(problem, [known], budget);
      expect(method).toBe('exchange');
      expect(best.value).toBeLessThanOrEqual(valueOf(known) + 1e-4);
      expect(worst.value).toBeGreaterThanOrEqual(best.value);
      expect(new Set(best.steps.map(({ item }) => item)).size).toBe(12);
      expect(valueOf(best.steps)).toBeCloseTo(best.value, 3);
    }
    expect(bestOrderAndWays(problem, [known], 5000)).toEqual(bestOrderAndWays(problem, [known], 5000));
  });

  it('has an empty sequence for nothing', () => {
    expect(bestOrderAndWays(balancing([]), [], 10).best).toEqual({ steps: [], value: 0 });
  });
});

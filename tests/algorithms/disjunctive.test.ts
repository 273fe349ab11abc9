import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DisjunctiveProblem } from '../../src/algorithms/disjunctive-problem.js';
import { leastMakespan } from '../../src/algorithms/disjunctive.js';
import { Budget } from '../../src/base/budget.js';
import { faultsOf, leastByListing, randomChains, randomJobShop } from './small-disjunctive.js';

const solve = (problem: DisjunctiveProblem, steps = 1e6, upper?: number) =>
  leastMakespan(problem, { budget: new Budget({ steps }), ...(upper !== undefined && { upper }) });

/** Outcome, makespan and bound as listing says, and a schedule without fault. */
function agreesWithListing(problem: DisjunctiveProblem): void {
  const least = leastByListing(problem);
  const report = solve(problem);
  if (least === Infinity) {
    expect(report).toMatchObject({ outcome: 'impossible', bound: Infinity });
    expect(report.best).toBeUndefined();
    return;
  }
  expect(report).toMatchObject({ outcome: 'optimal', best: { makespan: least }, bound: least });
  expect(faultsOf(problem, report.best!)).toEqual([]);
  expect(solve(problem, 1e6, least)).toMatchObject({ outcome: 'optimal', best: { makespan: least } });
  expect(solve(problem, 1e6, least - 1).outcome).toBe('impossible');
}

const shape = fc.record({
  jobs: fc.integer({ min: 1, max: 4 }),
  machines: fc.integer({ min: 1, max: 3 }),
  transport: fc.integer({ min: 0, max: 6 }),
  setups: fc.boolean(),
});

describe('leastMakespan against listing every order', () => {
  it('agrees on small job-shops with transport and set-up times', () => {
    fc.assert(
      fc.property(fc.integer(), shape, (seed, small) => {
        fc.pre(small.jobs < 4 || small.machines < 3);
        agreesWithListing(randomJobShop(seed, small));
      }),
      { seed: 7, numRuns: 100 },
    );
  });

  it('agrees where spans are stretches of chains, also where every order leads in a circle', () => {
    let impossible = 0;
    for (let seed = 0; seed < 1500; seed += 1) {
      const problem = randomChains(seed);
      agreesWithListing(problem);
      if (leastByListing(problem) === Infinity) impossible += 1;
    }
    expect(impossible).toBeGreaterThan(100);
    expect(impossible).toBeLessThan(1400);
  });
});

describe('leastMakespan on larger instances', () => {
  const large = fc.record({
    jobs: fc.integer({ min: 3, max: 7 }),
    machines: fc.integer({ min: 2, max: 5 }),
    transport: fc.integer({ min: 0, max: 6 }),
    setups: fc.boolean(),
  });

  it('gives a schedule without fault, a bound below it, and the same again, whatever the budget', () => {
    fc.assert(
      fc.property(fc.integer(), large, fc.integer({ min: 1, max: 600 }), (seed, sizes, steps) => {
        const problem = randomJobShop(seed, sizes);
        const report = solve(problem, steps);
        expect(faultsOf(problem, report.best!)).toEqual([]);
        expect(report.bound).toBeLessThanOrEqual(report.best!.makespan);
        expect(report.outcome).toBe(report.bound === report.best!.makespan ? 'optimal' : 'feasible');
        expect(report.improvements.at(-1)!.makespan).toBe(report.best!.makespan);
        expect(solve(problem, steps)).toEqual(report);
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  it('answers within one step', () => {
    const problem = randomJobShop(5, { jobs: 8, machines: 8, transport: 3, setups: true });
    const report = solve(problem, 1);
    expect(report.outcome).toBe('feasible');
    expect(faultsOf(problem, report.best!)).toEqual([]);
  });
});

/** Two chains of three operations, ten units each. */
const twoChains = {
  durations: Array.from({ length: 6 }, () => 10),
  arcs: [0, 1, 3, 4].map((from) => ({ from, to: from + 1, lag: 10 })),
};

describe('spans over several operations', () => {
  it('occupy their resource through the waits inside them', () => {
    // Operation 1 waits for operation 4, so the span 0 to 1 lasts from 0 to 30 unless it begins after the other chain.
    const problem: DisjunctiveProblem = {
      ...twoChains,
      arcs: [...twoChains.arcs, { from: 4, to: 1, lag: 10 }],
      resources: [
        {
          spans: [
            { first: 0, last: 1 },
            { first: 5, last: 5 },
          ],
        },
      ],
    };
    const report = solve(problem);
    expect(report).toMatchObject({ outcome: 'optimal', best: { makespan: 40 } });
    expect(faultsOf(problem, report.best!)).toEqual([]);
  });

  it('are refused in an order in which the chains would wait for each other', () => {
    // The first chain takes A, then B before it leaves A; the second takes B, then A before it leaves B.
    const problem: DisjunctiveProblem = {
      ...twoChains,
      resources: [
        {
          spans: [
            { first: 0, last: 1 },
            { first: 4, last: 5 },
          ],
        },
        {
          spans: [
            { first: 1, last: 2 },
            { first: 3, last: 4 },
          ],
        },
      ],
    };
    // Each zone to whom comes first would be a standstill, so one chain is done before the other begins.
    expect(solve(problem)).toMatchObject({ outcome: 'optimal', best: { makespan: 60 } });
    const crossed = [...problem.arcs, { from: 0, to: 4, lag: 0 }, { from: 3, to: 1, lag: 0 }];
    expect(solve({ ...problem, arcs: crossed })).toEqual({
      ...{ outcome: 'impossible', bound: Infinity, nodes: 0, improvements: [] },
    });
  });
});

describe('special input', () => {
  it('finds arcs in a circle, even without any length', () => {
    const arcs = [
      { from: 0, to: 1, lag: 0 },
      { from: 1, to: 0, lag: 0 },
    ];
    expect(solve({ durations: [0, 0], arcs, resources: [] }).outcome).toBe('impossible');
  });

  it('takes an empty problem and one without resources', () => {
    expect(solve({ durations: [], arcs: [], resources: [] })).toMatchObject({
      outcome: 'optimal',
      best: { makespan: 0, critical: [] },
    });
    const arcs = [{ from: 2, to: 0, lag: 7 }];
    expect(solve({ durations: [3, 4, 5], arcs, resources: [] })).toMatchObject({
      outcome: 'optimal',
      best: { makespan: 10, starts: [7, 0, 0], critical: [2, 0] },
    });
  });

  it('says none found where the budget ends before the first answer', () => {
    const problem = randomJobShop(5, { jobs: 5, machines: 5, transport: 3, setups: false });
    const { best } = solve(problem, 1e5);
    const report = solve(problem, 1, best!.makespan);
    expect(['none-found', 'optimal', 'feasible']).toContain(report.outcome);
    expect(report.bound).toBeLessThanOrEqual(best!.makespan);
  });

  it.each([
    [{ durations: [1.5], arcs: [], resources: [] }, 'Duration 0 is 1.5'],
    [{ durations: [1], arcs: [{ from: 0, to: 1, lag: 0 }], resources: [] }, 'The target of arc 0 is 1'],
    [{ durations: [1, 1], arcs: [{ from: 0, to: 1, lag: -1 }], resources: [] }, 'The lag of arc 0 is -1'],
    [
      { durations: [1], arcs: [], resources: [{ spans: [{ first: 0, last: 3 }] }] },
      'The last operation of span 0 of resource 0 is 3',
    ],
    [
      {
        durations: [1, 1],
        arcs: [],
        resources: [{ spans: [0, 1].map((i) => ({ first: i, last: i })), setups: [[0]] }],
      },
      'Set-up 0 to 1 of resource 0 is undefined',
    ],
  ])('refuses %j', (problem, words) => {
    expect(() => solve(problem)).toThrow(words);
  });
});

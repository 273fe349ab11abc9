import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms, Outcome, Program } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms, pack } from '../../src/algorithms/linear-program.js';
import { denseMaximum } from '../mechanics/dense-simplex.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const free = { lower: 0, upper: Infinity };

/** A small program with whole-numbered data: maximise cost x, A x <= b, x >= 0. */
const smallProgram = fc
  .record({ columns: fc.integer({ min: 1, max: 5 }), rows: fc.integer({ min: 1, max: 5 }) })
  .chain(({ columns, rows }) =>
    fc.record({
      cost: fc.array(fc.integer({ min: -5, max: 9 }), { minLength: columns, maxLength: columns }),
      matrix: fc.array(
        fc.array(fc.integer({ min: -3, max: 6 }), { minLength: columns, maxLength: columns }),
        { minLength: rows, maxLength: rows },
      ),
      limit: fc.array(fc.integer({ min: -8, max: 20 }), { minLength: rows, maxLength: rows }),
    }),
  );

const programOf = (data: { cost: number[]; matrix: number[][]; limit: number[] }): Program => ({
  maximise: true,
  columns: data.cost.map((cost) => ({ cost, ...free })),
  rows: data.matrix.map((row, i) => ({
    lower: -Infinity,
    upper: data.limit[i]!,
    entries: row.flatMap((value, j) => (value === 0 ? [] : [[j, value] as const])),
  })),
});

const objectiveOf = (outcome: Outcome): number =>
  outcome.status === 'optimal' ? outcome.objective : Number.NaN;

describe('solving one linear program', () => {
  // Recomputed by hand: the corner of x + 2y <= 40, 2x + y <= 50 is (20, 10).
  it('finds the optimum, its values and its duals', () => {
    const outcome = programs.solve({
      maximise: true,
      columns: [
        { cost: 30, ...free },
        { cost: 50, ...free },
      ],
      rows: [
        {
          lower: -Infinity,
          upper: 40,
          entries: [
            [0, 1],
            [1, 2],
          ],
        },
        {
          lower: -Infinity,
          upper: 50,
          entries: [
            [0, 2],
            [1, 1],
          ],
        },
      ],
    });
    expect(outcome.status).toBe('optimal');
    if (outcome.status !== 'optimal') return;
    expect(outcome.objective).toBeCloseTo(1100, 9);
    expect([...outcome.values].map((value) => Math.round(value * 1e9) / 1e9)).toEqual([20, 10]);
    // 30 = u + 2v and 50 = 2u + v, so u = 70/3 and v = 10/3.
    expect(outcome.duals?.rows[0]).toBeCloseTo(70 / 3, 9);
    expect(outcome.duals?.rows[1]).toBeCloseTo(10 / 3, 9);
  });

  it('tells infeasible, unbounded and crossed bounds apart', () => {
    const column = { cost: -1, ...free };
    const atMost = (upper: number) => ({ lower: -Infinity, upper, entries: [[0, 1]] as const });
    expect(programs.solve({ columns: [column], rows: [atMost(-1)] }).status).toBe('infeasible');
    expect(programs.solve({ columns: [column], rows: [] }).status).toBe('unbounded');
    expect(programs.solve({ columns: [{ cost: 0, lower: 2, upper: 1 }], rows: [] }).status).toBe(
      'infeasible',
    );
    expect(programs.solve({ columns: [], rows: [{ lower: 1, upper: 2, entries: [] }] }).status).toBe(
      'infeasible',
    );
    expect(objectiveOf(programs.solve({ columns: [], rows: [] }))).toBe(0);
    const both: Program = { columns: [column, column], rows: [{ lower: 1, upper: 1, entries: [] }] };
    expect(programs.solve(both).status).toBe('infeasible');
  });

  it('says failed, with the reason, for a program that makes no sense', () => {
    const outcome = programs.solve({ columns: [{ cost: Number.NaN, ...free }], rows: [] });
    expect(outcome.status).toBe('failed');
    expect(outcome.status === 'failed' && outcome.why.length).toBeGreaterThan(5);
  });

  it('honours whole numbers', () => {
    const whole = { ...free, integer: true };
    const outcome = programs.solve({
      maximise: true,
      columns: [
        { cost: 5, ...whole },
        { cost: 4, ...whole },
      ],
      rows: [
        {
          lower: -Infinity,
          upper: 24,
          entries: [
            [0, 6],
            [1, 4],
          ],
        },
        {
          lower: -Infinity,
          upper: 6,
          entries: [
            [0, 1],
            [1, 2],
          ],
        },
      ],
    });
    // By enumeration: 5x + 4y is greatest at (4, 0), 20; the relaxation gives 21 at (3, 1.5).
    expect(objectiveOf(outcome)).toBeCloseTo(20, 9);
  });

  it('agrees with an independent dense simplex on random programs', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(smallProgram, (data) => {
        const outcome = programs.solve(programOf(data));
        const expected = denseMaximum(data.cost, data.matrix, data.limit);
        seen.add(outcome.status);
        expect(outcome.status).toBe(expected.status);
        if (expected.status === 'optimal') expect(objectiveOf(outcome)).toBeCloseTo(expected.objective, 7);
      }),
      { numRuns: 400, seed: 11 },
    );
    expect([...seen].sort()).toEqual(['infeasible', 'optimal', 'unbounded']);
  });
});

describe('a kept program', () => {
  it('gives cold answers bit by bit like a fresh solve, and warm ones within rounding', () => {
    fc.assert(
      fc.property(
        smallProgram,
        fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 4, maxLength: 8 }),
        (data, limits) => {
          const model = programs.model(pack(programOf(data)));
          try {
            for (const [step, limit] of limits.entries()) {
              const row = step % data.limit.length;
              model.setRowBounds(row, -Infinity, limit);
              model.setCost(step % data.cost.length, limit - 10);
              data.limit[row] = limit;
              data.cost[step % data.cost.length] = limit - 10;
              const fresh = programs.solve(programOf(data));
              const cold = model.solve('cold');
              const warm = model.solve('warm');
              expect(cold).toEqual(fresh);
              expect(warm.status).toBe(fresh.status);
              if (fresh.status === 'optimal') expect(objectiveOf(warm)).toBeCloseTo(fresh.objective, 7);
            }
          } finally {
            model.dispose();
          }
        },
      ),
      { numRuns: 60, seed: 12 },
    );
  });

  it('follows changed column bounds', () => {
    const model = programs.model(
      pack({ maximise: true, columns: [{ cost: 2, lower: 0, upper: 3 }], rows: [] }),
    );
    expect(objectiveOf(model.solve('warm'))).toBe(6);
    model.setColumnBounds(0, 1, 5);
    expect(objectiveOf(model.solve('warm'))).toBe(10);
    model.setColumnBounds(0, 6, 5);
    expect(model.solve('warm').status).toBe('infeasible');
    model.dispose();
  });
});

import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { InnerPoint } from '../../src/algorithms/inner-point.js';
import type { LinearPrograms, Program } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms, pack } from '../../src/algorithms/linear-program.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const COLUMNS = 5;
const whole = (min: number, max: number) => fc.integer({ min, max });
const entries = fc.array(whole(-3, 4), { minLength: COLUMNS, maxLength: COLUMNS });

/** Equations that a point off all bounds keeps, caps and bands around it, and a last column that is fixed at one. */
const program = fc
  .record({
    point: fc.array(whole(1, 9), { minLength: COLUMNS, maxLength: COLUMNS }),
    bounded: fc.array(fc.boolean(), { minLength: COLUMNS, maxLength: COLUMNS }),
    equations: fc.array(fc.record({ entries, load: whole(-3, 3) }), { minLength: 1, maxLength: 3 }),
    cap: fc.record({ first: whole(0, 3), room: whole(1, 20) }),
    band: fc.record({ entries, below: whole(1, 9), above: whole(1, 9) }),
  })
  .map(({ point, bounded, equations, cap, band }): Program => {
    const sumOf = (list: readonly number[]): number =>
      list.reduce((sum, value, j) => sum + value * point[j]!, 0);
    const listed = (list: readonly number[]) =>
      list.flatMap((value, j) => (value === 0 ? [] : [[j, value] as const]));
    const capped = point.map((_, j) => (j >= cap.first && j <= cap.first + 1 ? 1 : 0));
    return {
      columns: [
        ...point.map((value, j) => ({ cost: 0, lower: 0, upper: bounded[j] ? value + 5 : Infinity })),
        { cost: 0, lower: 1, upper: 1 },
      ],
      rows: [
        ...equations.map(({ entries: list, load }) => ({
          lower: sumOf(list) + load,
          upper: sumOf(list) + load,
          entries: [...listed(list), ...(load === 0 ? [] : [[COLUMNS, load] as const])],
        })),
        { lower: -Infinity, upper: sumOf(capped) + cap.room, entries: listed(capped) },
        {
          lower: sumOf(band.entries) - band.below,
          upper: sumOf(band.entries) + band.above,
          entries: listed(band.entries),
        },
      ],
    };
  });

/** How far the last column can be raised, by a linear program; Infinity where nothing ends it. */
function greatest({ columns, rows }: Program): number {
  const outcome = programs.solve({
    columns: columns.map((column, j) => (j === COLUMNS ? { cost: -1, lower: 1, upper: Infinity } : column)),
    rows,
  });
  if (outcome.status === 'unbounded') return Infinity;
  if (outcome.status !== 'optimal') throw new Error(outcome.status);
  return outcome.values[COLUMNS]! - 1;
}

describe('a point inside a program', () => {
  it('reaches no farther than a linear program finds, and often near to it', () => {
    const seen = { found: 0, inner: 0, near: 0 };
    fc.assert(
      fc.property(program, (given) => {
        const point = InnerPoint.of(pack(given));
        if (point === undefined) return;
        seen.found += 1;
        const reach = point.reach(COLUMNS);
        const most = greatest(given);
        expect(reach).toBeGreaterThanOrEqual(0);
        expect(reach).toBeLessThanOrEqual(most * (1 + 1e-9) + 1e-7);
        if (most === Infinity || most < 1e-6) return;
        seen.inner += 1;
        if (reach > 0.3 * most) seen.near += 1;
      }),
      { numRuns: 400, seed: 5 },
    );
    expect(seen.found).toBeGreaterThan(300);
    expect(seen.near).toBeGreaterThan(0.7 * seen.inner);
    expect(seen.inner).toBeGreaterThan(150);
  });

  // By hand: x + y = 4 + 2 f with both at least zero and at most 10 together ends at f = 3.
  it('goes to the end where there is one way only', () => {
    const one: Program = {
      columns: [
        { cost: 0, lower: 0, upper: Infinity },
        { cost: 0, lower: 0, upper: Infinity },
        { cost: 0, lower: 0, upper: 0 },
      ],
      rows: [
        {
          lower: 4,
          upper: 4,
          entries: [
            [0, 1],
            [1, 1],
            [2, -2],
          ],
        },
        {
          lower: -Infinity,
          upper: 10,
          entries: [
            [0, 1],
            [1, 1],
          ],
        },
      ],
    };
    expect(InnerPoint.of(pack(one))!.reach(2)).toBeCloseTo(3, 4);
  });

  it('is not found where there is none, and reaches nothing where equations have no way', () => {
    const free = { cost: 0, lower: 0, upper: Infinity };
    const fixed = { cost: 0, lower: 0, upper: 0 };
    const negative: Program = { columns: [free, fixed], rows: [{ lower: -1, upper: -1, entries: [[0, 1]] }] };
    expect(InnerPoint.of(pack(negative))).toBeUndefined();
    const apart: Program = {
      columns: [free, fixed],
      rows: [
        { lower: 1, upper: 1, entries: [[0, 1]] },
        { lower: 0, upper: 0, entries: [[1, 1]] },
      ],
    };
    expect(InnerPoint.of(pack(apart))!.reach(1)).toBe(0);
  });
});

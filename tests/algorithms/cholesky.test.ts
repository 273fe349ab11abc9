import fc from 'fast-check';
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  factorise,
  lowerTriangle,
  solveFactorised,
  type LowerTriangle,
} from '../../src/algorithms/cholesky.js';
import { seededRandom } from '../../src/base/random.js';

/** A random factor with zeros outside a band, times its transpose: positive definite, not near to singular. */
function randomMatrix(size: number, band: number, seed: number): number[][] {
  const random = seededRandom(seed);
  const factor = Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_, j) =>
      j > i || j < i - band ? 0 : i === j ? 1 + random() : (random() - 0.5) / 2,
    ),
  );
  return factor.map((row) =>
    factor.map((other) => row.reduce((sum, value, k) => sum + value * other[k]!, 0)),
  );
}

/** The lower triangle; what need not be read is not a number. */
function triangleOf(matrix: readonly (readonly number[])[], band: number): LowerTriangle {
  const triangle = lowerTriangle(matrix.length);
  triangle.entries.fill(NaN);
  matrix.forEach((row, i) => {
    triangle.first[i] = Math.max(0, i - band);
    for (let j = triangle.first[i]!; j <= i; j += 1) triangle.entries[i * matrix.length + j] = row[j]!;
  });
  return triangle;
}

const solve = (matrix: readonly (readonly number[])[], band: number, side: readonly number[]): number[] => {
  const triangle = triangleOf(matrix, band);
  expect(factorise(triangle).ok).toBe(true);
  const answer = Float64Array.from(side);
  solveFactorised(triangle, answer);
  return [...answer];
};

describe("Cholesky's factor", () => {
  it('of a matrix by hand: [[4, 2], [2, 5]] = L Lt with L = [[2, 0], [1, 2]]', () => {
    const triangle = triangleOf(
      [
        [4, 2],
        [2, 5],
      ],
      1,
    );
    expect(factorise(triangle).ok).toBe(true);
    expect([0, 2, 3].map((i) => triangle.entries[i])).toEqual([2, 1, 2]);
  });

  it('solves as the independent library ml-matrix does, full matrices and banded ones', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.nat(40), fc.nat(), (size, band, seed) => {
        const matrix = randomMatrix(size, band, seed);
        const random = seededRandom(seed + 1);
        const side = matrix.map(() => random() - 0.5);
        const theirs = new CholeskyDecomposition(new Matrix(matrix))
          .solve(Matrix.columnVector(side))
          .to1DArray();
        const ours = solve(matrix, band, side);
        const most = Math.max(...theirs.map(Math.abs));
        ours.forEach((value, i) => expect(Math.abs(value - theirs[i]!)).toBeLessThanOrEqual(1e-9 * most));
      }),
      { numRuns: 200, seed: 61 },
    );
  });

  it('gives back the right side when the answer is put into the matrix', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.nat(60), fc.nat(), (size, band, seed) => {
        const matrix = randomMatrix(size, band, seed);
        const side = matrix.map((_, i) => Math.sin(i));
        const answer = solve(matrix, band, side);
        const scale = Math.max(1, ...matrix.flat().map(Math.abs)) * Math.max(1, ...answer.map(Math.abs));
        matrix.forEach((row, i) => {
          const back = row.reduce((sum, value, j) => sum + value * answer[j]!, 0);
          expect(Math.abs(back - side[i]!)).toBeLessThanOrEqual(1e-12 * scale * size);
        });
      }),
      { numRuns: 200, seed: 62 },
    );
  });

  it.each([
    [
      'one that is indefinite',
      [
        [1, 2],
        [2, 1],
      ],
      { row: 1, pivot: -3 },
    ],
    [
      'one that is singular',
      [
        [1, 1],
        [1, 1],
      ],
      { row: 1, pivot: 0 },
    ],
    [
      'one that is no number',
      [
        [NaN, 0],
        [0, 1],
      ],
      { row: 0, pivot: NaN },
    ],
    [
      'one without end',
      [
        [1, 0],
        [0, Infinity],
      ],
      { row: 1, pivot: Infinity },
    ],
  ])('refuses %s with the row and the pivot as a value', (_, matrix, error) => {
    expect(factorise(triangleOf(matrix, 1))).toEqual({ ok: false, error });
  });
});

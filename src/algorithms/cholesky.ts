import { fail, ok, type Result } from '../base/result.js';

/** The row at which a matrix turned out not to be positive definite, with the pivot that stood there. */
export interface BadPivot {
  readonly row: number;
  readonly pivot: number;
}

/**
 * The lower triangle of a symmetric matrix, row by row in one array of size * size; entry (i, j) with j <= i at
 * i * size + j, what is above the diagonal is never read. `first[i]` is the first column of row i that may differ from
 * zero: what stands before it is not read either, so that matrices with few entries are quick. All zeros for a full one.
 */
export interface LowerTriangle {
  readonly size: number;
  readonly entries: Float64Array;
  readonly first: Int32Array;
}

export const lowerTriangle = (size: number): LowerTriangle => ({
  size,
  entries: new Float64Array(size * size),
  first: new Int32Array(size),
});

/**
 * Cholesky's factor of a symmetric positive definite matrix, in place of its lower triangle: the matrix is the factor
 * times its transpose. A pivot that is not positive (or not a number) is a value, and the triangle is then spoilt.
 */
export function factorise(matrix: LowerTriangle): Result<LowerTriangle, BadPivot> {
  const { size, entries, first } = matrix;
  for (let i = 0; i < size; i += 1) {
    const row = i * size;
    const from = first[i]!;
    let pivot = entries[row + i]!;
    for (let j = from; j < i; j += 1) {
      const other = j * size;
      let sum = entries[row + j]!;
      for (let k = Math.max(from, first[j]!); k < j; k += 1) sum -= entries[row + k]! * entries[other + k]!;
      const value = sum / entries[other + j]!;
      entries[row + j] = value;
      pivot -= value * value;
    }
    if (!(pivot > 0 && pivot < Infinity)) return fail({ row: i, pivot });
    entries[row + i] = Math.sqrt(pivot);
  }
  return ok(matrix);
}

/** Solves factor * transpose of factor * x = right side, in place of the right side. */
export function solveFactorised({ size, entries, first }: LowerTriangle, rightSide: Float64Array): void {
  for (let i = 0; i < size; i += 1) {
    const row = i * size;
    let sum = rightSide[i]!;
    for (let k = first[i]!; k < i; k += 1) sum -= entries[row + k]! * rightSide[k]!;
    rightSide[i] = sum / entries[row + i]!;
  }
  for (let i = size - 1; i >= 0; i -= 1) {
    const row = i * size;
    const value = rightSide[i]! / entries[row + i]!;
    rightSide[i] = value;
    for (let k = first[i]!; k < i; k += 1) rightSide[k] = rightSide[k]! - entries[row + k]! * value;
  }
}

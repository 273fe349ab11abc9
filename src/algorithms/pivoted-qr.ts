/** A matrix by rows. */
export type Rows = readonly (readonly number[])[];

/**
 * Least squares by Householder reflections with column pivoting (Businger and Golub 1965): columns are taken by the
 * largest rest first, so that those that depend on others come last.
 */
export interface PivotedQr {
  /** How many columns are independent. */
  readonly rank: number;
  /** Column numbers in the order in which they were taken; those from `rank` on depend on the ones before. */
  readonly order: readonly number[];
  /** Least |A x - b| with 0 for each dependent column. */
  solve(b: readonly number[]): number[];
  /** (A^T A)^-1 of the independent columns, by column number; rows and columns of the others are 0. */
  inverseNormal(): number[][];
  /** For a dependent column: its coefficients over the independent ones, by column number; 0 elsewhere. */
  dependence(column: number): number[];
}

/** Puts b through one reflection v, whose first entry stands in row k. */
function reflect(v: readonly number[], k: number, b: number[]): void {
  let [dot, square] = [0, 0];
  for (let i = 0; i < v.length; i += 1) {
    dot += v[i]! * b[k + i]!;
    square += v[i]! * v[i]!;
  }
  if (square === 0) return;
  for (let i = 0; i < v.length; i += 1) b[k + i]! -= (2 * dot * v[i]!) / square;
}

const restOf = (column: readonly number[], from: number): number => Math.hypot(...column.slice(from));

/** The Householder vector that turns a column into a multiple of the unit vector k. */
function householder(column: readonly number[], k: number): number[] {
  const v = column.slice(k);
  const size = Math.hypot(...v);
  v[0]! += v[0]! < 0 ? -size : size;
  return v;
}

/** Solves the upper triangle of the first `rank` columns of R for a right side. */
function backward(r: Rows, rank: number, right: readonly number[]): number[] {
  const x = new Array<number>(rank).fill(0);
  for (let i = rank - 1; i >= 0; i -= 1) {
    let sum = right[i]!;
    for (let j = i + 1; j < rank; j += 1) sum -= r[j]![i]! * x[j]!;
    x[i] = sum / r[i]![i]!;
  }
  return x;
}

/** @param tolerance a column whose rest is below this share of the largest first one is dependent */
export function pivotedQr(rows: Rows, columns: number, tolerance: number): PivotedQr {
  // By columns: r[j] is the j-th column taken.
  const r = Array.from({ length: columns }, (_, j) => rows.map((row) => row[j]!));
  const order = r.map((_, j) => j);
  const reflections: number[][] = [];
  const least = tolerance * Math.max(0, ...r.map((column) => restOf(column, 0)));
  let rank = 0;
  for (; rank < Math.min(columns, rows.length); rank += 1) {
    const rests = r.map((column, j) => (j < rank ? -1 : restOf(column, rank)));
    const next = rests.indexOf(Math.max(...rests));
    if (!(rests[next]! > least)) break;
    [r[rank], r[next]] = [r[next]!, r[rank]!];
    [order[rank], order[next]] = [order[next]!, order[rank]!];
    const v = householder(r[rank]!, rank);
    reflections.push(v);
    for (const column of r.slice(rank)) reflect(v, rank, column);
  }
  const byColumn = (values: readonly number[]): number[] => {
    const out = new Array<number>(columns).fill(0);
    for (let i = 0; i < rank; i += 1) out[order[i]!] = values[i]!;
    return out;
  };
  return {
    rank,
    order,
    solve: (b) => {
      const turned = [...b];
      for (const [k, v] of reflections.entries()) reflect(v, k, turned);
      return byColumn(backward(r, rank, turned));
    },
    inverseNormal: () => inverseNormal(r, rank, order),
    dependence: (column) => byColumn(backward(r, rank, r[order.indexOf(column)]!)),
  };
}

/** R^-1 R^-T of the independent columns, put back into the order of the columns. */
function inverseNormal(r: Rows, rank: number, order: readonly number[]): number[][] {
  const inverse = Array.from({ length: rank }, (_, j) =>
    backward(
      r,
      rank,
      Array.from({ length: rank }, (_unused, i) => (i === j ? 1 : 0)),
    ),
  );
  const out = order.map(() => order.map(() => 0));
  for (let i = 0; i < rank; i += 1)
    for (let j = 0; j < rank; j += 1)
      out[order[i]!]![order[j]!] = inverse.reduce((sum, column) => sum + column[i]! * column[j]!, 0);
  return out;
}

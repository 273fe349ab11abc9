/** What the dense simplex found; `undecided` when rounding spoils its proof or keeps it from an end. */
export type DenseOutcome =
  | { status: 'optimal'; objective: number }
  | { status: 'infeasible' }
  | { status: 'unbounded' }
  | { status: 'undecided' };

const GRAIN = 1e-9;
/** Entries smaller than this are no pivots, and what is smaller still after a pivot is nothing. */
const [LEAST_PIVOT, NOTHING] = [1e-7, 1e-12];
/** How far a proof may miss, beside numbers of about a hundred. */
const PROOF = 1e-6;
/** Far more than any program of these tests needs unless rounding makes it go in circles. */
const MOST_PIVOTS = 1500;

/**
 * Maximises cost x subject to matrix x <= limit, x >= 0, by a dense two-phase tableau with Bland's rule (Bland
 * 1977, which cannot cycle). Slow and plain on purpose: a witness for tests that shares nothing with the engine. What
 * it says is proved from the given numbers: an optimum by the dual solution, infeasibility by the lemma of Farkas.
 */
export function denseMaximum(cost: number[], matrix: number[][], limit: number[]): DenseOutcome {
  const [rows, columns] = [matrix.length, cost.length];
  const width = columns + 2 * rows + 1;
  const basis = limit.map((value, i) => (value < 0 ? columns + rows + i : columns + i));
  const table = matrix.map((row, i) => {
    const sign = limit[i]! < 0 ? -1 : 1;
    const line = new Array<number>(width).fill(0);
    row.forEach((value, j) => (line[j] = sign * value));
    line[columns + i] = sign;
    if (sign < 0) line[columns + rows + i] = 1;
    line[width - 1] = sign * limit[i]!;
    return line;
  });
  const artificial = (j: number): boolean => j >= columns + rows;
  const phaseOne = Array.from({ length: width - 1 }, (_, j) => (artificial(j) ? -1 : 0));
  if (climb(table, basis, phaseOne, () => true) === 'undecided') return { status: 'undecided' };
  const given = { matrix, limit, columns };
  if (worth(table, basis, phaseOne) < -1e-7) {
    const dual = dualOf(table, basis, phaseOne, given);
    const proved =
      isDual(dual, new Array<number>(columns).fill(0), given) && times(limit, dual) < -PROOF / 100;
    return { status: proved ? 'infeasible' : 'undecided' };
  }
  driveOut(table, basis, columns + rows);
  const phaseTwo = Array.from({ length: width - 1 }, (_, j) => cost[j] ?? 0);
  const end = climb(table, basis, phaseTwo, (j) => !artificial(j));
  if (end !== 'top') return { status: end };
  const objective = worth(table, basis, phaseTwo);
  const dual = dualOf(table, basis, phaseTwo, given);
  const room = PROOF * (1 + Math.abs(objective));
  const proved =
    isDual(dual, cost, given) &&
    Math.abs(times(limit, dual) - objective) < room &&
    isPrimal(table, basis, given) &&
    basis.every((j, i) => !artificial(j) || Math.abs(table[i]!.at(-1)!) < room);
  return proved ? { status: 'optimal', objective } : { status: 'undecided' };
}

interface Given {
  readonly matrix: number[][];
  readonly limit: number[];
  readonly columns: number;
}

const times = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * b[i]!, 0);

/** The price of each limit, read off the column of its slack. */
const dualOf = (table: number[][], basis: number[], cost: number[], { matrix, columns }: Given): number[] =>
  matrix.map((_, row) => basis.reduce((sum, b, i) => sum + cost[b]! * table[i]![columns + row]!, 0));

/** Whether prices are a bound on the cost of whatever meets the limits. */
const isDual = (dual: readonly number[], cost: readonly number[], { matrix }: Given): boolean =>
  dual.every((price) => price > -PROOF) &&
  cost.every((value, j) => dual.reduce((sum, price, i) => sum + price * matrix[i]![j]!, 0) > value - PROOF);

function isPrimal(table: number[][], basis: number[], { matrix, limit, columns }: Given): boolean {
  const found = new Array<number>(columns).fill(0);
  basis.forEach((j, i) => {
    if (j < columns) found[j] = table[i]!.at(-1)!;
  });
  return (
    found.every((value) => value > -PROOF) &&
    matrix.every((row, i) => times(row, found) < limit[i]! + PROOF * (1 + Math.abs(limit[i]!)))
  );
}

const worth = (table: number[][], basis: number[], cost: number[]): number =>
  basis.reduce((sum, j, i) => sum + cost[j]! * table[i]!.at(-1)!, 0);

/** Pivots until no column improves, or the objective grows without end. */
function climb(
  table: number[][],
  basis: number[],
  cost: number[],
  allowed: (j: number) => boolean,
): 'top' | 'unbounded' | 'undecided' {
  for (let pivots = 0; pivots < MOST_PIVOTS; pivots += 1) {
    const entering = cost.findIndex(
      (value, j) =>
        allowed(j) && value - basis.reduce((sum, b, i) => sum + cost[b]! * table[i]![j]!, 0) > GRAIN,
    );
    if (entering < 0) return 'top';
    let leaving = -1;
    for (let i = 0; i < table.length; i += 1) {
      if (table[i]![entering]! <= LEAST_PIVOT) continue;
      const ratio = table[i]!.at(-1)! / table[i]![entering]!;
      const best = leaving < 0 ? Infinity : table[leaving]!.at(-1)! / table[leaving]![entering]!;
      if (ratio < best - GRAIN || (ratio <= best + GRAIN && basis[i]! < (basis[leaving] ?? Infinity)))
        leaving = i;
    }
    if (leaving < 0) return 'unbounded';
    pivot(table, basis, leaving, entering);
  }
  return 'undecided';
}

/** Takes artificial columns at zero out of the basis where a real column can replace them. */
function driveOut(table: number[][], basis: number[], real: number): void {
  basis.forEach((j, i) => {
    if (j < real) return;
    const replacement = table[i]!.slice(0, real).findIndex((value) => Math.abs(value) > LEAST_PIVOT);
    if (replacement >= 0) pivot(table, basis, i, replacement);
  });
}

function pivot(table: number[][], basis: number[], row: number, column: number): void {
  const by = table[row]![column]!;
  table[row] = table[row]!.map((value) => value / by);
  table.forEach((line, i) => {
    const factor = line[column]!;
    if (i === row || factor === 0) return;
    table[i] = line.map((value, j) => {
      const next = value - factor * table[row]![j]!;
      return Math.abs(next) < NOTHING ? 0 : next;
    });
  });
  basis[row] = column;
}

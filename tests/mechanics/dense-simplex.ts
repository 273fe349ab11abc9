/** What the dense simplex found. */
export type DenseOutcome =
  { status: 'optimal'; objective: number } | { status: 'infeasible' } | { status: 'unbounded' };

const GRAIN = 1e-9;

/**
 * Maximises cost x subject to matrix x <= limit, x >= 0, by a dense two-phase tableau with Bland's rule (Bland
 * 1977, which cannot cycle). Slow and plain on purpose: a witness for tests that shares nothing with the engine.
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
  climb(table, basis, phaseOne, () => true);
  if (worth(table, basis, phaseOne) < -1e-7) return { status: 'infeasible' };
  driveOut(table, basis, columns + rows);
  const phaseTwo = Array.from({ length: width - 1 }, (_, j) => cost[j] ?? 0);
  if (!climb(table, basis, phaseTwo, (j) => !artificial(j))) return { status: 'unbounded' };
  return { status: 'optimal', objective: worth(table, basis, phaseTwo) };
}

const worth = (table: number[][], basis: number[], cost: number[]): number =>
  basis.reduce((sum, j, i) => sum + cost[j]! * table[i]!.at(-1)!, 0);

/** Pivots until no column improves; false when the objective grows without end. */
function climb(table: number[][], basis: number[], cost: number[], allowed: (j: number) => boolean): boolean {
  for (;;) {
    const entering = cost.findIndex(
      (value, j) =>
        allowed(j) && value - basis.reduce((sum, b, i) => sum + cost[b]! * table[i]![j]!, 0) > GRAIN,
    );
    if (entering < 0) return true;
    let leaving = -1;
    for (let i = 0; i < table.length; i += 1) {
      if (table[i]![entering]! <= GRAIN) continue;
      const ratio = table[i]!.at(-1)! / table[i]![entering]!;
      const best = leaving < 0 ? Infinity : table[leaving]!.at(-1)! / table[leaving]![entering]!;
      if (ratio < best - GRAIN || (ratio <= best + GRAIN && basis[i]! < (basis[leaving] ?? Infinity)))
        leaving = i;
    }
    if (leaving < 0) return false;
    pivot(table, basis, leaving, entering);
  }
}

/** Takes artificial columns at zero out of the basis where a real column can replace them. */
function driveOut(table: number[][], basis: number[], real: number): void {
  basis.forEach((j, i) => {
    if (j < real) return;
    const replacement = table[i]!.slice(0, real).findIndex((value) => Math.abs(value) > GRAIN);
    if (replacement >= 0) pivot(table, basis, i, replacement);
  });
}

function pivot(table: number[][], basis: number[], row: number, column: number): void {
  const by = table[row]![column]!;
  table[row] = table[row]!.map((value) => value / by);
  table.forEach((line, i) => {
    const factor = line[column]!;
    if (i === row || factor === 0) return;
    table[i] = line.map((value, j) => value - factor * table[row]![j]!);
  });
  basis[row] = column;
}

import type { Packed } from './linear-program-shape.js';

/**
 * What the columns of a program that are not fixed must keep: equations, bounds, and caps on sums of them. A column has
 * one cap at most; every other row of the program is an equation, with a column of its own for what it leaves free.
 */
export interface Inside {
  readonly columns: number;
  /** Where each column of the program is among them; -1 for one that is fixed. */
  readonly place: Int32Array;
  readonly equations: number;
  /** Entries of column `j` in the equations: from `starts[j]` up to, not including, `starts[j + 1]`, rows rising. */
  readonly starts: Int32Array;
  readonly rows: Int32Array;
  readonly values: Float64Array;
  /** Right sides of the equations, what the fixed columns contribute taken off. */
  readonly right: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /** Number of each column's cap; -1 for none. */
  readonly cap: Int32Array;
  /** The columns under cap `i`: from `capStarts[i]` up to, not including, `capStarts[i + 1]` of `capped`. */
  readonly capStarts: Int32Array;
  readonly capped: Int32Array;
  readonly limits: Float64Array;
  /** Size that a column is thought to have on a side without a bound. */
  readonly scale: number;
  /** Entries of the fixed columns in the equations, by their number in the program. */
  readonly fixed: ReadonlyMap<number, readonly Fixed[]>;
}

interface Fixed {
  readonly row: number;
  readonly value: number;
}

/** How much larger a column without a bound may get than the greatest entry of a fixed one (our choice; it hardly matters). */
const ROOM = 3;

/** The inside of a program; costs count for nothing. Equations keep the order of its rows. */
export const insideOf = (program: Packed): Inside => new Builder(program).inside();

class Builder {
  private readonly place: Int32Array;
  private count = 0;
  private readonly lower: Float64Array;
  private readonly upper: Float64Array;
  private readonly cap: Int32Array;
  /** Of each equation its row of the program, what the fixed columns contribute, and the column for what it leaves free or -1. */
  private readonly equations: number[] = [];
  private readonly contributed: number[] = [];
  private readonly slacks: number[] = [];
  private readonly limits: number[] = [];
  private readonly capStarts: number[] = [0];
  private readonly capped: number[] = [];
  private readonly fixed = new Map<number, Fixed[]>();
  private greatest = 1;

  constructor(private readonly program: Packed) {
    const { lower, upper, rowLower } = program;
    const most = lower.length + rowLower.length;
    this.place = new Int32Array(lower.length).fill(-1);
    this.lower = new Float64Array(most);
    this.upper = new Float64Array(most);
    this.cap = new Int32Array(most).fill(-1);
    for (let j = 0; j < lower.length; j += 1)
      if (lower[j]! < upper[j]!) this.place[j] = this.column(lower[j]!, upper[j]!);
    for (let row = 0; row < rowLower.length; row += 1) this.row(row);
  }

  inside(): Inside {
    const { count, equations, contributed } = this;
    const { rowLower, rowUpper } = this.program;
    return {
      columns: count,
      place: this.place,
      equations: equations.length,
      ...this.entries(),
      right: Float64Array.from(equations, (row, i) =>
        rowLower[row]! < rowUpper[row]! ? 0 : rowLower[row]! - contributed[i]!,
      ),
      lower: this.lower.slice(0, count),
      upper: this.upper.slice(0, count),
      cap: this.cap.slice(0, count),
      capStarts: Int32Array.from(this.capStarts),
      capped: Int32Array.from(this.capped),
      limits: Float64Array.from(this.limits),
      scale: ROOM * this.greatest,
      fixed: this.fixed,
    };
  }

  private column(lower: number, upper: number): number {
    this.lower[this.count] = lower;
    this.upper[this.count] = upper;
    this.count += 1;
    return this.count - 1;
  }

  private row(row: number): void {
    const [lower, upper] = [this.program.rowLower[row]!, this.program.rowUpper[row]!];
    if (lower === -Infinity && upper === Infinity) return;
    if (lower < upper && this.isCap(row)) this.limit(row);
    else this.equation(row);
  }

  private isCap(row: number): boolean {
    const { rowLower, starts, indices, values } = this.program;
    if (rowLower[row] !== -Infinity) return false;
    for (let k = starts[row]!; k < starts[row + 1]!; k += 1)
      if (values[k] !== 1 || this.cap[this.place[indices[k]!]!] !== -1) return false;
    return true;
  }

  private limit(row: number): void {
    const { rowUpper, starts, indices } = this.program;
    for (let k = starts[row]!; k < starts[row + 1]!; k += 1) {
      const place = this.place[indices[k]!]!;
      this.cap[place] = this.limits.length;
      this.capped.push(place);
    }
    this.capStarts.push(this.capped.length);
    this.limits.push(rowUpper[row]!);
  }

  private equation(row: number): void {
    const { lower, rowLower, rowUpper, starts, indices, values } = this.program;
    let contributed = 0;
    for (let k = starts[row]!; k < starts[row + 1]!; k += 1) {
      const column = indices[k]!;
      if (this.place[column]! >= 0) continue;
      const value = values[k]!;
      contributed += value * lower[column]!;
      this.greatest = Math.max(this.greatest, Math.abs(value));
      const entry = { row: this.equations.length, value };
      const known = this.fixed.get(column);
      if (known) known.push(entry);
      else this.fixed.set(column, [entry]);
    }
    const [below, above] = [rowLower[row]!, rowUpper[row]!];
    this.slacks.push(below < above ? this.column(below - contributed, above - contributed) : -1);
    this.contributed.push(contributed);
    this.equations.push(row);
  }

  /** Entries of the equations, column by column: counted first, then put in their places. */
  private entries(): Pick<Inside, 'starts' | 'rows' | 'values'> {
    const starts = new Int32Array(this.count + 1);
    this.eachEntry((column) => {
      starts[column + 1]! += 1;
    });
    for (let j = 1; j < starts.length; j += 1) starts[j]! += starts[j - 1]!;
    const next = starts.slice();
    const rows = new Int32Array(starts.at(-1)!);
    const values = new Float64Array(rows.length);
    this.eachEntry((column, row, value) => {
      const place = next[column]!;
      rows[place] = row;
      values[place] = value;
      next[column] = place + 1;
    });
    return { starts, rows, values };
  }

  private eachEntry(visit: (column: number, row: number, value: number) => void): void {
    const { starts, indices, values } = this.program;
    for (let i = 0; i < this.equations.length; i += 1) {
      const row = this.equations[i]!;
      for (let k = starts[row]!; k < starts[row + 1]!; k += 1) {
        const place = this.place[indices[k]!]!;
        if (place >= 0) visit(place, i, values[k]!);
      }
      if (this.slacks[i]! >= 0) visit(this.slacks[i]!, i, -1);
    }
  }
}

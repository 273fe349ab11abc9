import type { Program, Row } from './linear-program-shape.js';

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
export const insideOf = (program: Program): Inside => new Builder(program).inside();

/** A row that is no cap, the free columns' entries of which are the equation's. */
interface Equation {
  readonly row: Row;
  /** What the fixed columns contribute. */
  readonly fixed: number;
  /** The column for what the row leaves free; -1 where it leaves nothing. */
  readonly slack: number;
}

class Builder {
  private readonly place: Int32Array;
  private readonly lower: number[] = [];
  private readonly upper: number[] = [];
  private readonly cap: number[] = [];
  private readonly equations: Equation[] = [];
  private readonly limits: number[] = [];
  private readonly capStarts: number[] = [0];
  private readonly capped: number[] = [];
  private readonly fixed = new Map<number, Fixed[]>();
  private greatest = 1;

  constructor(private readonly program: Program) {
    this.place = Int32Array.from(program.columns, ({ lower, upper }) =>
      lower < upper ? this.column(lower, upper) : -1,
    );
    for (const row of program.rows) this.row(row);
  }

  inside(): Inside {
    return {
      columns: this.lower.length,
      place: this.place,
      equations: this.equations.length,
      ...this.entries(),
      right: Float64Array.from(this.equations, ({ row, fixed }) =>
        row.lower < row.upper ? 0 : row.lower - fixed,
      ),
      lower: Float64Array.from(this.lower),
      upper: Float64Array.from(this.upper),
      cap: Int32Array.from(this.cap),
      capStarts: Int32Array.from(this.capStarts),
      capped: Int32Array.from(this.capped),
      limits: Float64Array.from(this.limits),
      scale: ROOM * this.greatest,
      fixed: this.fixed,
    };
  }

  private column(lower: number, upper: number): number {
    this.lower.push(lower);
    this.upper.push(upper);
    return this.cap.push(-1) - 1;
  }

  private row(row: Row): void {
    if (row.lower === -Infinity && row.upper === Infinity) return;
    if (row.lower < row.upper && this.isCap(row)) this.limit(row);
    else this.equation(row);
  }

  private isCap({ lower, entries }: Row): boolean {
    return (
      lower === -Infinity &&
      entries.every(([column, value]) => value === 1 && this.cap[this.place[column]!] === -1)
    );
  }

  private limit({ upper, entries }: Row): void {
    for (const [column] of entries) {
      this.cap[this.place[column]!] = this.limits.length;
      this.capped.push(this.place[column]!);
    }
    this.capStarts.push(this.capped.length);
    this.limits.push(upper);
  }

  private equation(row: Row): void {
    const { columns } = this.program;
    let fixed = 0;
    for (let k = 0; k < row.entries.length; k += 1) {
      const column = row.entries[k]![0];
      if (this.place[column]! >= 0) continue;
      const value = row.entries[k]![1];
      fixed += value * columns[column]!.lower;
      this.greatest = Math.max(this.greatest, Math.abs(value));
      const entry = { row: this.equations.length, value };
      const known = this.fixed.get(column);
      if (known) known.push(entry);
      else this.fixed.set(column, [entry]);
    }
    const slack = row.lower < row.upper ? this.column(row.lower - fixed, row.upper - fixed) : -1;
    this.equations.push({ row, fixed, slack });
  }

  /** Entries of the equations, column by column: counted first, then put in their places. */
  private entries(): Pick<Inside, 'starts' | 'rows' | 'values'> {
    const starts = new Int32Array(this.lower.length + 1);
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
    for (let i = 0; i < this.equations.length; i += 1) {
      const { row, slack } = this.equations[i]!;
      for (let k = 0; k < row.entries.length; k += 1) {
        const entry = row.entries[k]!;
        const place = this.place[entry[0]]!;
        if (place >= 0) visit(place, i, entry[1]);
      }
      if (slack >= 0) visit(slack, i, -1);
    }
  }
}

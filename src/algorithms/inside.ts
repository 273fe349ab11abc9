import type { Program, Row } from './linear-program-shape.js';

/**
 * What the columns of a program that are not fixed must keep: equations, bounds, and caps on sums of them. A column has
 * one cap at most; every other row of the program is an equation, with a column of its own for what it leaves free.
 */
export interface Inside {
  readonly columns: number;
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

class Builder {
  private readonly place: Int32Array;
  private readonly entries: Fixed[][] = [];
  private readonly lower: number[] = [];
  private readonly upper: number[] = [];
  private readonly cap: number[] = [];
  private readonly right: number[] = [];
  private readonly limits: number[] = [];
  private readonly capStarts: number[] = [0];
  private readonly capped: number[] = [];
  private readonly fixed = new Map<number, Fixed[]>();

  constructor(private readonly program: Program) {
    this.place = Int32Array.from(program.columns, ({ lower, upper }) =>
      lower < upper ? this.column(lower, upper) : -1,
    );
    for (const row of program.rows) this.row(row);
  }

  inside(): Inside {
    const starts = new Int32Array(this.entries.length + 1);
    this.entries.forEach((list, j) => {
      starts[j + 1] = starts[j]! + list.length;
    });
    const all = this.entries.flat();
    const sizes = [...this.fixed.values()].flat().map(({ value }) => Math.abs(value));
    return {
      columns: this.entries.length,
      equations: this.right.length,
      starts,
      rows: Int32Array.from(all, ({ row }) => row),
      values: Float64Array.from(all, ({ value }) => value),
      right: Float64Array.from(this.right),
      lower: Float64Array.from(this.lower),
      upper: Float64Array.from(this.upper),
      cap: Int32Array.from(this.cap),
      capStarts: Int32Array.from(this.capStarts),
      capped: Int32Array.from(this.capped),
      limits: Float64Array.from(this.limits),
      scale: ROOM * Math.max(1, ...sizes),
      fixed: this.fixed,
    };
  }

  private column(lower: number, upper: number): number {
    this.lower.push(lower);
    this.upper.push(upper);
    this.cap.push(-1);
    return this.entries.push([]) - 1;
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

  private equation({ lower, upper, entries }: Row): void {
    const row = this.right.length;
    let sum = 0;
    for (const [column, value] of entries) {
      const place = this.place[column]!;
      if (place >= 0) this.entries[place]!.push({ row, value });
      else {
        sum += value * this.program.columns[column]!.lower;
        const known = this.fixed.get(column);
        if (known) known.push({ row, value });
        else this.fixed.set(column, [{ row, value }]);
      }
    }
    if (lower < upper) this.entries[this.column(lower - sum, upper - sum)]!.push({ row, value: -1 });
    this.right.push(lower < upper ? 0 : lower - sum);
  }
}

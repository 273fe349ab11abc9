import type { Packed } from './linear-program-shape.js';

/** Entries for which there is room at first. */
const FIRST_ROOM = 1024;

/**
 * Rows of a program to which entries are added in any order, kept in flat arrays from the start. Where entries come column
 * by column, those of each row are in the order of the columns.
 */
export class GrowingRows {
  readonly lower: number[] = [];
  readonly upper: number[] = [];
  private readonly sizes: number[] = [];
  private entries = 0;
  private rowOf = new Int32Array(FIRST_ROOM);
  private columnOf = new Int32Array(FIRST_ROOM);
  private values = new Float64Array(FIRST_ROOM);

  get count(): number {
    return this.sizes.length;
  }

  /** A new row without entries; its number. */
  add(lower: number, upper: number): number {
    this.lower.push(lower);
    this.upper.push(upper);
    return this.sizes.push(0) - 1;
  }

  isEmpty(row: number): boolean {
    return this.sizes[row] === 0;
  }

  /** Moves both bounds of a row. */
  raise(row: number, by: number): void {
    this.lower[row]! += by;
    this.upper[row]! += by;
  }

  enter(row: number, column: number, value: number): void {
    if (this.entries === this.values.length) this.grow();
    this.rowOf[this.entries] = row;
    this.columnOf[this.entries] = column;
    this.values[this.entries] = value;
    this.entries += 1;
    this.sizes[row]! += 1;
  }

  /** Takes the entries of other rows into those of its own that are told for each; none of a row for which it is -1. */
  takeEntries(others: GrowingRows, places: Int32Array): void {
    for (let k = 0; k < others.entries; k += 1) {
      const row = places[others.rowOf[k]!]!;
      if (row >= 0) this.enter(row, others.columnOf[k]!, others.values[k]!);
    }
  }

  /** The rows one after the other. */
  packed(): Pick<Packed, 'rowLower' | 'rowUpper' | 'starts' | 'indices' | 'values'> {
    const starts = new Int32Array(this.count + 1);
    for (let i = 0; i < this.count; i += 1) starts[i + 1] = starts[i]! + this.sizes[i]!;
    const next = starts.slice();
    const indices = new Int32Array(this.entries);
    const values = new Float64Array(this.entries);
    for (let k = 0; k < this.entries; k += 1) {
      const place = next[this.rowOf[k]!]!++;
      indices[place] = this.columnOf[k]!;
      values[place] = this.values[k]!;
    }
    const [rowLower, rowUpper] = [Float64Array.from(this.lower), Float64Array.from(this.upper)];
    return { rowLower, rowUpper, starts, indices, values };
  }

  private grow(): void {
    const room = 2 * this.values.length;
    const [rowOf, columnOf, values] = [this.rowOf, this.columnOf, this.values];
    this.rowOf = new Int32Array(room);
    this.columnOf = new Int32Array(room);
    this.values = new Float64Array(room);
    this.rowOf.set(rowOf);
    this.columnOf.set(columnOf);
    this.values.set(values);
  }
}

import type { Packed, Program } from './linear-program-shape.js';

export function pack(program: Program): Packed {
  const { columns, rows } = program;
  const count = rows.reduce((sum, row) => sum + row.entries.length, 0);
  const starts = new Int32Array(rows.length + 1);
  const indices = new Int32Array(count);
  const values = new Float64Array(count);
  let next = 0;
  rows.forEach((row, i) => {
    for (const [column, value] of row.entries) {
      indices[next] = column;
      values[next] = value;
      next += 1;
    }
    starts[i + 1] = next;
  });
  const whole = columns.some((column) => column.integer === true);
  return {
    maximise: program.maximise === true,
    cost: Float64Array.from(columns, (column) => column.cost),
    lower: Float64Array.from(columns, (column) => column.lower),
    upper: Float64Array.from(columns, (column) => column.upper),
    rowLower: Float64Array.from(rows, (row) => row.lower),
    rowUpper: Float64Array.from(rows, (row) => row.upper),
    starts,
    indices,
    values,
    integer: whole ? Int32Array.from(columns, (column) => (column.integer === true ? 1 : 0)) : undefined,
  };
}

/** The same program, the costs and bounds of which may be changed in place. */
export const withOwnBounds = (packed: Packed): Packed => ({
  ...packed,
  cost: packed.cost.slice(),
  lower: packed.lower.slice(),
  upper: packed.upper.slice(),
  rowLower: packed.rowLower.slice(),
  rowUpper: packed.rowUpper.slice(),
});

const concatenated = (first: Float64Array, rest: readonly number[]): Float64Array =>
  Float64Array.from([...first, ...rest]);

/**
 * The program that measures the least violation: every finite row bound may be exceeded at a price of one a unit,
 * column bounds stay. Its optimum is zero exactly when the given program has a solution (phase one of the simplex
 * method, Dantzig 1963).
 */
export function elastic(packed: Packed): Packed {
  const columns = packed.cost.length;
  const starts = new Int32Array(packed.rowLower.length + 1);
  const indices: number[] = [];
  const values: number[] = [];
  let added = 0;
  const addSlack = (sign: number): void => {
    indices.push(columns + added);
    values.push(sign);
    added += 1;
  };
  packed.rowLower.forEach((lower, row) => {
    for (let k = packed.starts[row]!; k < packed.starts[row + 1]!; k += 1) {
      indices.push(packed.indices[k]!);
      values.push(packed.values[k]!);
    }
    if (Number.isFinite(lower)) addSlack(1);
    if (Number.isFinite(packed.rowUpper[row]!)) addSlack(-1);
    starts[row + 1] = indices.length;
  });
  const slacks = (value: number): number[] => new Array<number>(added).fill(value);
  return {
    maximise: false,
    cost: concatenated(new Float64Array(columns), slacks(1)),
    lower: concatenated(packed.lower, slacks(0)),
    upper: concatenated(packed.upper, slacks(Infinity)),
    rowLower: packed.rowLower,
    rowUpper: packed.rowUpper,
    starts,
    indices: Int32Array.from(indices),
    values: Float64Array.from(values),
    integer: packed.integer && Int32Array.from([...packed.integer, ...slacks(0)]),
  };
}

/** The program with every finite row bound moved outwards by `grain` times one plus its size. */
export function widened(packed: Packed, grain: number): Packed {
  const room = (bound: number): number => (Number.isFinite(bound) ? grain * (1 + Math.abs(bound)) : 0);
  return {
    ...packed,
    rowLower: packed.rowLower.map((bound) => bound - room(bound)),
    rowUpper: packed.rowUpper.map((bound) => bound + room(bound)),
  };
}

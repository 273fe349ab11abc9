/** One unknown: what a unit of it costs, and between which values it lies (infinities allowed). */
export interface Column {
  readonly cost: number;
  readonly lower: number;
  readonly upper: number;
  /** Whole numbers only. Such a program has no duals and cannot be solved warm. */
  readonly integer?: boolean;
}

/** One condition: `lower <= sum of value * column <= upper`; a column may appear once only. */
export interface Row {
  readonly lower: number;
  readonly upper: number;
  readonly entries: readonly Entry[];
}

export type Entry = readonly [column: number, value: number];

/** A sparse linear program; the cost is minimised unless `maximise` is set. */
export interface Program {
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  readonly maximise?: boolean;
}

/** A program as flat arrays, rows packed one after the other. */
export interface Packed {
  readonly maximise: boolean;
  readonly cost: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly rowLower: Float64Array;
  readonly rowUpper: Float64Array;
  /** Row `i` occupies `starts[i]` up to, not including, `starts[i + 1]` of `indices` and `values`. */
  readonly starts: Int32Array;
  readonly indices: Int32Array;
  readonly values: Float64Array;
  /** One per column, 1 where whole numbers are wanted; undefined when there are none. */
  readonly integer: Int32Array | undefined;
}

/** By how much the objective grows for each unit by which a row's or column's active bound is raised. */
export interface Duals {
  readonly rows: Float64Array;
  readonly columns: Float64Array;
}

export interface Optimal {
  readonly status: 'optimal';
  readonly objective: number;
  readonly values: Float64Array;
  /** Absent for programs with integer columns. */
  readonly duals: Duals | undefined;
}

/**
 * What a program turned out to be. Every answer is checked before it is given: `optimal` by putting the values
 * into the rows and the duals into the bound they prove, `infeasible` by a second program that measures the least
 * violation. `failed` means that no answer passed its check; it says nothing about the program.
 */
export type Outcome =
  | Optimal
  | { readonly status: 'infeasible' }
  | { readonly status: 'unbounded' }
  | { readonly status: 'failed'; readonly why: string };

/**
 * `cold` starts from nothing, so that the same program gives the same bits; `marked` from the basis at the last mark and
 * nothing else, so that the same program and mark give the same bits; `warm` starts from the last answer.
 */
export type Start = 'cold' | 'marked' | 'warm';

/** A program whose costs and bounds can be changed and which can then be solved again. Holds engine memory. */
export interface Model {
  setCost(column: number, cost: number): void;
  setColumnBounds(column: number, lower: number, upper: number): void;
  setRowBounds(row: number, lower: number, upper: number): void;
  solve(start: Start): Outcome;
  /** Marks the basis at which the last cold solve ended. */
  mark(): void;
  /** Gives the engine's memory back; the model must not be used afterwards. */
  dispose(): void;
}

/** The engine for linear programs, loaded once at the edge and handed in. */
export interface LinearPrograms {
  /** Solves one program from nothing: the same program gives the same bits. */
  solve(program: Program): Outcome;
  /** Keeps a program for repeated solving; the caller disposes of it. Programs with integer columns are not kept. */
  model(packed: Packed): Model;
}

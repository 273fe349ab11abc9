import * as highsPackage from 'highs';

export type Highs = Awaited<ReturnType<typeof highsPackage.default.default>>;

export const loadHighs = (): Promise<Highs> =>
  (highsPackage.default as unknown as typeof highsPackage.default.default)();

/** A sum of columns with factors. */
export type Sum = readonly (readonly [column: number, factor: number])[];

export type Solved =
  | { readonly status: 'optimal'; readonly values: Float64Array; readonly firstAfter: number }
  | { readonly status: 'infeasible' | 'out of time' };

/** Feasibility of integers in HiGHS is 1e-6; a sum of a few hundred such columns stays below this. */
const WHOLE = 1e-3;

/** A mixed-integer program written column by column and row by row, minimised by HiGHS. */
export class MixedInteger {
  private readonly costs: number[] = [];
  private readonly lower: number[] = [];
  private readonly upper: number[] = [];
  private readonly integer: boolean[] = [];
  private readonly rows: { readonly lower: number; readonly upper: number; readonly sum: Sum }[] = [];

  /** A column between 0 and 1 that must be whole. */
  binary(cost = 0): number {
    return this.column(cost, 0, 1, true);
  }

  /** A column that must be whole, without a cost. */
  whole(lower: number, upper: number): number {
    return this.column(0, lower, upper, true);
  }

  /** A column that may be any number between the two. */
  free(cost = 0, lower = 0, upper = 1): number {
    return this.column(cost, lower, upper, false);
  }

  row(lower: number, upper: number, sum: Sum): void {
    this.rows.push({ lower, upper, sum });
  }

  equal(left: Sum, right: Sum, constant = 0): void {
    this.row(constant, constant, difference(left, right));
  }

  /** `left` is at most `right` plus a constant. */
  atMost(left: Sum, right: Sum, constant = 0): void {
    this.row(-Infinity, constant, difference(left, right));
  }

  get size(): { readonly columns: number; readonly rows: number } {
    return { columns: this.costs.length, rows: this.rows.length };
  }

  /**
   * All costs must be whole numbers and only columns that are whole in every solution may have any: then a gap below
   * one is a proof, and HiGHS is told so.
   *
   * @param patience seconds
   */
  minimise(highs: Highs, patience: number): Solved {
    const started = performance.now();
    let firstAfter: number | undefined;
    const model = highs.createModel();
    try {
      model.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0.99, time_limit: patience });
      model.passModel(this.packed(highs));
      const { modelStatus } = model.run({
        [highs.constants.callbackType.mipImprovingSolution]: () => {
          firstAfter ??= (performance.now() - started) / 1000;
          return undefined;
        },
      });
      const { optimal, infeasible, unboundedOrInfeasible } = highs.constants.modelStatus;
      if (modelStatus === infeasible || modelStatus === unboundedOrInfeasible)
        return { status: 'infeasible' };
      if (modelStatus !== optimal) return { status: 'out of time' };
      const values = model.getSolution().colValue.slice();
      return { status: 'optimal', values, firstAfter: firstAfter ?? (performance.now() - started) / 1000 };
    } finally {
      model.dispose();
    }
  }

  private column(cost: number, lower: number, upper: number, integer: boolean): number {
    this.costs.push(cost);
    this.lower.push(lower);
    this.upper.push(upper);
    this.integer.push(integer);
    return this.costs.length - 1;
  }

  private packed(highs: Highs): Parameters<ReturnType<Highs['createModel']>['passModel']>[0] {
    const { rows } = this;
    const starts = new Int32Array(rows.length + 1);
    rows.forEach(({ sum }, i) => (starts[i + 1] = starts[i]! + sum.length));
    return {
      numCols: this.costs.length,
      numRows: rows.length,
      sense: highs.constants.objectiveSense.minimize,
      colCost: Float64Array.from(this.costs),
      colLower: Float64Array.from(this.lower),
      colUpper: Float64Array.from(this.upper),
      rowLower: Float64Array.from(rows, ({ lower }) => lower),
      rowUpper: Float64Array.from(rows, ({ upper }) => upper),
      matrix: {
        format: 'csr',
        numRows: rows.length,
        numCols: this.costs.length,
        starts,
        indices: Int32Array.from(rows.flatMap(({ sum }) => sum.map(([column]) => column))),
        values: Float64Array.from(rows.flatMap(({ sum }) => sum.map(([, factor]) => factor))),
      },
      integrality: Int32Array.from(this.integer, (whole) => (whole ? 1 : 0)),
    };
  }
}

/** Whether a binary column is 1. */
export const isOne = (values: Float64Array, column: number): boolean => {
  const value = values[column]!;
  if (Math.abs(value - Math.round(value)) > WHOLE) throw new Error(`A binary column is ${value}.`);
  return Math.round(value) === 1;
};

/** `left` minus `right`, each column once. */
function difference(left: Sum, right: Sum): Sum {
  const factors = new Map<number, number>();
  for (const [column, factor] of left) factors.set(column, (factors.get(column) ?? 0) + factor);
  for (const [column, factor] of right) factors.set(column, (factors.get(column) ?? 0) - factor);
  return [...factors].filter(([, factor]) => factor !== 0);
}

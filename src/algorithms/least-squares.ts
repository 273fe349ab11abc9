import { pivotedQr } from './pivoted-qr.js';

/** Values to be fitted so that what they predict comes as near to what was measured as can be. */
export interface FittingProblem {
  readonly measured: readonly number[];
  /** As many numbers as are measured, for trial values. */
  predict(values: readonly number[]): readonly number[];
  readonly start: readonly number[];
  /** Values stay from `least` to `most`. */
  readonly least?: number;
  readonly most?: number;
  /** Typical size of each value, for steps and for what counts as influence; default: of the start, or 1. */
  readonly sizes?: readonly number[];
  /** Step of the numeric derivative as a share of the value, at least of a tenth of its size. */
  readonly step?: number;
  /** A value that changes no prediction by more than this, when it changes by its size, has no influence. */
  readonly influence?: number;
  /** Values whose effects differ by less than this share of the largest effect cannot be told apart. */
  readonly apart?: number;
  /** Values have come to rest when a step would change each by less than this share. */
  readonly rest?: number;
}

/** What became of one value. */
export type Told =
  | { readonly kind: 'fitted' }
  /** It ended at `least` or `most`, beyond which the data would draw it. */
  | { readonly kind: 'at-limit' }
  /** Kept at its start: no prediction depends on it. */
  | { readonly kind: 'no-influence' }
  /** Kept at its start: what it does, the values of these numbers do together as well. */
  | { readonly kind: 'not-apart'; readonly from: readonly number[] };

export interface Fit {
  readonly values: readonly number[];
  readonly told: readonly Told[];
  /** Measured less predicted. */
  readonly residuals: readonly number[];
  readonly sumOfSquares: number;
  /** Measured less fitted values. */
  readonly freedom: number;
  /** Root of the sum of squares over the freedom; undefined without freedom. */
  readonly standardError: number | undefined;
  /** Standard deviation of each fitted value, from the derivatives at the answer; undefined where there is none. */
  readonly deviations: readonly (number | undefined)[];
  readonly steps: number;
  /** False when the steps ran out before the values came to rest. */
  readonly settled: boolean;
}

/** Relative step of a central difference that balances cutting and rounding: the cube root of the precision. */
const STEP = Math.cbrt(Number.EPSILON);
const APART = 1e-9;
const MOST_STEPS = 500;
const REST = 1e-12;
/** Damping after the first step that led uphill; ten times that after each further one. */
const FIRST_DAMPING = 1e-3;
const MOST_DAMPING = 1e16;

const squares = (values: readonly number[]): number => values.reduce((sum, x) => sum + x * x, 0);

/** The problem with every default filled in. */
class Fitting {
  readonly sizes: readonly number[];
  private readonly least: number;
  private readonly most: number;
  private readonly step: number;

  constructor(readonly problem: FittingProblem) {
    this.sizes = problem.sizes ?? problem.start.map((x) => Math.abs(x) || 1);
    this.least = problem.least ?? -Infinity;
    this.most = problem.most ?? Infinity;
    this.step = problem.step ?? STEP;
  }

  residuals(values: readonly number[]): number[] {
    const predicted = this.problem.predict(values);
    return this.problem.measured.map((y, i) => y - predicted[i]!);
  }

  bounded(value: number): number {
    return Math.min(this.most, Math.max(this.least, value));
  }

  /** Change of each prediction with each of the values `of`, by central differences (one-sided at a limit). */
  derivatives(values: readonly number[], of: readonly number[]): number[][] {
    const changes = of.map((j) => {
      const h = this.step * Math.max(Math.abs(values[j]!), this.sizes[j]! / 10);
      const [low, high] = [this.bounded(values[j]! - h), this.bounded(values[j]! + h)];
      const [below, above] = [low, high].map((x) => this.problem.predict(values.with(j, x)));
      return above!.map((y, i) => (y - below![i]!) / (high - low));
    });
    return this.problem.measured.map((_, i) => changes.map((change) => change[i]!));
  }

  /** Whether a step is so short that the values have come to rest. */
  rests(from: readonly number[], to: readonly number[]): boolean {
    const { rest = REST } = this.problem;
    return to.every((x, j) => Math.abs(x - from[j]!) <= rest * Math.max(Math.abs(x), this.sizes[j]! / 10));
  }

  /** Whether a value stands at a limit and a change of this sign would take it beyond. */
  stuck(value: number, change: number): boolean {
    return (value <= this.least && change < 0) || (value >= this.most && change > 0);
  }
}

/** Which values the data can tell at a point, judged by the derivatives there. */
function tell(fitting: Fitting, values: readonly number[], among: readonly number[]): Map<number, Told> {
  const rows = fitting.derivatives(values, among);
  const { influence = 0, apart = APART } = fitting.problem;
  const reach = among.map(
    (j, column) => Math.max(0, ...rows.map((row) => Math.abs(row[column]!))) * fitting.sizes[j]!,
  );
  const told = new Map<number, Told>();
  const moving = among.filter((j, column) => {
    const moves = reach[column]! > influence;
    if (!moves) told.set(j, { kind: 'no-influence' });
    return moves;
  });
  const columns = moving.map((j) => among.indexOf(j));
  // Each column of length 1: what counts is the direction of an effect, its size was judged above.
  const lengths = columns.map((column) => Math.hypot(...rows.map((row) => row[column]!)) || 1);
  const qr = pivotedQr(
    rows.map((row) => columns.map((column, c) => row[column]! / lengths[c]!)),
    columns.length,
    apart,
  );
  for (const [place, column] of qr.order.entries()) {
    const coefficients = place < qr.rank ? [] : qr.dependence(column);
    const from = moving.filter((_, i) => Math.abs(coefficients[i] ?? 0) > 1e-3);
    told.set(moving[column]!, place < qr.rank ? { kind: 'fitted' } : { kind: 'not-apart', from });
  }
  return told;
}

interface Descent {
  readonly values: number[];
  readonly steps: number;
  readonly settled: boolean;
}

/** Steps of Levenberg (1944) and Marquardt (1963), undamped as long as that leads downhill. */
function descend(fitting: Fitting, among: readonly number[]): Descent {
  let values = [...fitting.problem.start];
  let residuals = fitting.residuals(values);
  let damping = 0;
  for (let steps = 1; steps <= MOST_STEPS; steps += 1) {
    const rows = fitting.derivatives(values, among);
    const downhill = rows[0]!.map((_, c) => rows.reduce((sum, row, i) => sum + row[c]! * residuals[i]!, 0));
    const free = among.map((j, c) => !fitting.stuck(values[j]!, downhill[c]!));
    const found = nextValues(fitting, { values, residuals, rows, among, free, damping });
    if (found === undefined) return { values, steps, settled: true };
    ({ values, residuals, damping } = found);
  }
  return { values, steps: MOST_STEPS, settled: false };
}

interface Standing {
  readonly values: readonly number[];
  readonly residuals: readonly number[];
  readonly rows: readonly (readonly number[])[];
  readonly among: readonly number[];
  readonly free: readonly boolean[];
  readonly damping: number;
}

/** The next better values, with as little damping as leads downhill; undefined when nothing does. */
function nextValues(
  fitting: Fitting,
  { values, residuals, rows, among, free, damping: first }: Standing,
): { values: number[]; residuals: number[]; damping: number } | undefined {
  const lengths = among.map((_, c) => Math.hypot(...rows.map((row) => row[c]!)) || 1);
  const unit = rows.map((row) => row.map((x, c) => (free[c]! ? x / lengths[c]! : 0)));
  for (let damping = first; damping <= MOST_DAMPING; damping = damping === 0 ? FIRST_DAMPING : damping * 10) {
    const damped =
      damping === 0 ? [] : among.map((_, c) => among.map((_unused, d) => (c === d ? Math.sqrt(damping) : 0)));
    const qr = pivotedQr([...unit, ...damped], among.length, 1e-14);
    const change = qr.solve([...residuals, ...damped.map(() => 0)]);
    const trial = [...values];
    for (const [c, j] of among.entries())
      if (free[c]!) trial[j] = fitting.bounded(values[j]! + change[c]! / lengths[c]!);
    if (fitting.rests(values, trial)) return undefined;
    const there = fitting.residuals(trial);
    if (squares(there) < squares(residuals))
      return {
        values: trial,
        residuals: there,
        damping: damping / 10 < FIRST_DAMPING / 1000 ? 0 : damping / 10,
      };
  }
  return undefined;
}

/**
 * Fits values by non-linear least squares (Gauss-Newton steps, damped where they lead uphill, with numeric derivatives
 * and orthogonal factors). What the data cannot tell is kept at its start and said so; standard deviations come from
 * the derivatives at the answer and are estimates for a problem that bends little.
 * @throws RangeError when nothing is measured
 */
export function fitLeastSquares(problem: FittingProblem): Fit {
  if (problem.measured.length === 0) throw new RangeError('a fit needs at least one measured number');
  const fitting = new Fitting(problem);
  const all = problem.start.map((_, j) => j);
  const told = tell(fitting, problem.start, all);
  for (;;) {
    const among = all.filter((j) => told.get(j)!.kind === 'fitted');
    const descent =
      among.length === 0 ? { values: [...problem.start], steps: 0, settled: true } : descend(fitting, among);
    // What could be told at the start may be lost on the way; then it is kept there, and the fit begins anew.
    const lost = [...tell(fitting, descent.values, among)].filter(([, { kind }]) => kind !== 'fitted');
    if (lost.length === 0) return judged(fitting, descent, told, among);
    for (const [j, why] of lost) told.set(j, why);
  }
}

function judged(
  fitting: Fitting,
  descent: Descent,
  told: ReadonlyMap<number, Told>,
  among: readonly number[],
): Fit {
  const { values, steps, settled } = descent;
  const residuals = fitting.residuals(values);
  const rows = fitting.derivatives(values, among);
  const downhill = among.map((_, c) => rows.reduce((sum, row, i) => sum + row[c]! * residuals[i]!, 0));
  const inside = among.filter((j, c) => !fitting.stuck(values[j]!, downhill[c]!));
  const freedom = residuals.length - inside.length;
  const sumOfSquares = squares(residuals);
  const standardError = freedom > 0 ? Math.sqrt(sumOfSquares / freedom) : undefined;
  const lengths = inside.map((j) => Math.hypot(...rows.map((row) => row[among.indexOf(j)]!)));
  const unit = rows.map((row) => inside.map((j, c) => row[among.indexOf(j)]! / lengths[c]!));
  const inverse = pivotedQr(unit, inside.length, 0).inverseNormal();
  return {
    values,
    told: values.map((_, j) =>
      among.includes(j) && !inside.includes(j) ? { kind: 'at-limit' } : told.get(j)!,
    ),
    residuals,
    sumOfSquares,
    freedom,
    standardError,
    deviations: values.map((_, j) => {
      const c = inside.indexOf(j);
      return c < 0 || standardError === undefined
        ? undefined
        : (standardError * Math.sqrt(inverse[c]![c]!)) / lengths[c]!;
    }),
    steps,
    settled,
  };
}

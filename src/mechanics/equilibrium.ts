import type { LinearPrograms, Model, Optimal, Outcome, Packed } from '../algorithms/linear-program.js';
import { rounded } from '../base/order.js';
import { FACTOR_CAP, equilibriumProgram, type Layout } from './equilibrium-program.js';
import { frictionAfter, frictionAtRest, frictionRows } from './friction-bounds.js';
import { pressedByGravity, sides, without } from './gravity-friction.js';
import { ProvedReserves } from './proved-reserves.js';
import type { Disturbance, System } from './system.js';
import type { ForceSet, Verdict } from './verdict.js';
import { capped, failed, forcesOf } from './verdict-of.js';
import type { FrictionBounds } from './weakest.js';
import { weakestElement } from './weakest.js';

/** How a judgement is made. */
export interface JudgeOptions {
  /**
   * Solve programs of gravity from nothing, and those of disturbances each from the basis of gravity alone, whatever was
   * asked before: for numbers that are emitted, the same bits every time. When left out, disturbances start warm from one
   * another: faster, and the same reserves up to rounding.
   */
  readonly cold?: boolean | undefined;
  /** Hand out the forces found. */
  readonly forces?: boolean | undefined;
}

export interface Judgement {
  readonly gravity: Verdict;
  readonly disturbances: readonly Verdict[];
}

/** A system made ready; each load is judged when it is asked for. Holds engine memory until disposed of. */
export interface Judge {
  /** Step 1: gravity alone. */
  gravity(): Verdict;
  /** Step 2: one disturbance, by number, on top of gravity. */
  disturbance(index: number): Verdict;
  /** Whether a disturbance has needed the forces of step 1, by which its friction is bounded. */
  readonly usesStep1: boolean;
  /** The forces of step 1, found where they are not known yet; undefined for what does not stand. */
  step1(): ForceSet | undefined;
  /**
   * A lower bound of the reserve of gravity, for which no program is solved; zero where none is known, and less than
   * `wanted` only where no more can be found.
   */
  leastGravity(wanted?: number): number;
  /** The same of a disturbance. */
  leastDisturbance(index: number, wanted?: number): number;
  dispose(): void;
}

/**
 * Lower bounds this share above a number leave no doubt that a program would find more than it, whatever its tolerances
 * do: they are a ten-thousandth of this.
 */
export const BEYOND_DOUBT = 1e-4;
/** What is carried so many times has the greatest reserve that is looked for. */
const SURELY_CAPPED = FACTOR_CAP * (1 + BEYOND_DOUBT);
/** What is carried so many times stands. */
export const SURELY_STANDS = 1 + BEYOND_DOUBT;

/** A factor this little below one still carries the load: rounding of the engine. */
const STANDING_WITHIN = 1e-9;

/**
 * Judges a system under gravity and under each disturbance on top of it, so that no force is invented (design,
 * section 6):
 * 1. Gravity alone. Friction counts only at pads by their pull, by declared clamping, and at bearings that gravity
 *    presses. The reserve is the greatest factor of gravity that can be balanced. At factor one the forces with the least total
 *    normal force of the bearings are kept.
 * 2. Each disturbance. Normal forces are free; friction of each bearing is bounded by its coefficient times the greater
 *    of its normal force in step 1 and its declared clamping, and at each point by the normal force there. A pad has its
 *    pull alone, also under a body: how step 1 shares a load among pads is one choice of many, on which no reserve may
 *    depend. The reserve is the greatest factor of the disturbance.
 * A system that does not stand under gravity has reserve zero for every disturbance.
 */
export function judge(
  programs: LinearPrograms,
  system: System,
  disturbances: readonly Disturbance[],
  options: JudgeOptions = {},
): Judgement {
  const prepared = prepare(programs, system, disturbances, options);
  try {
    const gravity = prepared.gravity();
    const judged = disturbances.map((_, index) => prepared.disturbance(index));
    const forces = options.forces === true ? (prepared.step1() ?? gravity.forces) : undefined;
    return { gravity: { ...gravity, forces }, disturbances: judged };
  } finally {
    prepared.dispose();
  }
}

/** The same as `judge`, load by load: for a search that asks the cheapest or likeliest first. */
export const prepare = (
  programs: LinearPrograms,
  system: System,
  disturbances: readonly Disturbance[],
  options: JudgeOptions = {},
): Judge => new LazyJudge(programs, system, disturbances, options);

class LazyJudge implements Judge {
  private readonly program: Packed;
  private readonly layout: Layout;
  private opened: Model | undefined;
  private bounds: ProvedReserves | undefined;
  /** Bounds of friction in step 1, and those in force. */
  private atRest: FrictionBounds;
  private friction: FrictionBounds;
  private verdict: Verdict | undefined;
  /** Step 1 at factor one, once it is needed, and its forces once they are. */
  private balanced: Outcome | undefined;
  private balancing: ForceSet | undefined;
  /** Bounds of friction in step 2. */
  private rubbing: FrictionBounds | undefined;
  /** Factor at which gravity is held in step 2: one, or a rounding less. */
  private weight = 1;
  private active: number;

  constructor(
    private readonly programs: LinearPrograms,
    private readonly system: System,
    private readonly disturbances: readonly Disturbance[],
    private readonly options: JudgeOptions,
    private readonly trustAll = false,
  ) {
    const { program, layout } = equilibriumProgram(system, disturbances);
    this.program = program;
    this.layout = layout;
    this.active = layout.gravity;
    this.atRest = frictionAtRest(system, () => trustAll);
    this.friction = this.atRest;
  }

  gravity(): Verdict {
    this.verdict ??=
      this.leastGravity(SURELY_CAPPED) >= SURELY_CAPPED ? this.cappedGravity() : this.judgeGravity();
    return this.verdict;
  }

  disturbance(index: number): Verdict {
    const { name } = this.disturbances[index]!;
    if (this.leastDisturbance(index, SURELY_CAPPED) >= SURELY_CAPPED) return this.cappedDisturbance(index);
    if (!this.stands()) return { ...this.gravity(), name, reserve: 0, forces: undefined };
    const step1 = this.balance();
    if (step1.status !== 'optimal') return failed(name, step1);
    this.rubbing ??= frictionAfter(this.system, this.layout, step1.values);
    this.setFriction(this.rubbing);
    this.release(this.layout.disturbances[index]!);
    const outcome = this.model.solve(this.options.cold === true ? 'marked' : 'warm');
    if (outcome.status !== 'optimal') return failed(name, outcome);
    const factor = outcome.values[this.active]!;
    const reserve = rounded(Math.min(FACTOR_CAP, Math.max(0, factor)), 6);
    return this.verdictOf(name, reserve, reserve >= 1, outcome);
  }

  get usesStep1(): boolean {
    return this.balanced !== undefined;
  }

  step1(): ForceSet | undefined {
    if (!this.stands()) return undefined;
    const step1 = this.balance();
    if (step1.status !== 'optimal') return undefined;
    this.balancing ??= this.forces(step1);
    return this.balancing;
  }

  leastGravity(wanted?: number): number {
    return this.proved.gravity(wanted);
  }

  leastDisturbance(index: number, wanted?: number): number {
    return this.proved.disturbance(index, wanted);
  }

  dispose(): void {
    this.opened?.dispose();
  }

  private get model(): Model {
    this.opened ??= this.programs.model(this.program);
    return this.opened;
  }

  private get proved(): ProvedReserves {
    this.bounds ??= new ProvedReserves(this.system, this.program, this.layout);
    return this.bounds;
  }

  /** No program is needed for it. */
  private cappedDisturbance(index: number): Verdict {
    const { name } = this.disturbances[index]!;
    const forces = this.options.forces === true ? this.proved.forces(index, SURELY_CAPPED) : undefined;
    return { ...capped(name), forces };
  }

  private cappedGravity(): Verdict {
    return { ...capped('gravity'), forces: this.options.forces === true ? this.proved.atRest() : undefined };
  }

  private stands(): boolean {
    return this.leastGravity(SURELY_STANDS) >= SURELY_STANDS || this.gravity().stands;
  }

  private judgeGravity(): Verdict {
    let outcome = this.greatestGravity();
    if (outcome.status === 'optimal' && !this.carries(outcome) && this.settleDoubtful())
      outcome = this.greatestGravity();
    if (outcome.status !== 'optimal') return failed('gravity', outcome);
    const factor = rounded(outcome.values[this.layout.gravity]!, 6);
    if (!this.carries(outcome)) return this.verdictOf('gravity', Math.min(factor, 1 - 1e-6), false, outcome);
    this.weight = Math.min(1, outcome.values[this.layout.gravity]!);
    const verdict = this.verdictOf('gravity', Math.max(factor, 1), true, outcome);
    if (this.options.forces !== true) return verdict;
    // The forces of step 1 are needed only for step 2, and here where no others are known.
    const forces = this.proved.atRest();
    if (forces !== undefined) return { ...verdict, forces };
    const carrying = this.balance();
    return carrying.status === 'optimal'
      ? { ...verdict, forces: this.forces(carrying) }
      : failed('gravity', carrying);
  }

  /** Gravity balanced for step 2. Expects a system that stands. */
  private balance(): Outcome {
    this.balanced ??= this.leastNormals();
    return this.balanced;
  }

  private carries(optimum: Optimal): boolean {
    return optimum.values[this.layout.gravity]! >= 1 - STANDING_WITHIN;
  }

  private greatestGravity(): Outcome {
    this.setFriction(this.atRest);
    this.release(this.layout.gravity);
    return this.model.solve('cold');
  }

  /** Step 1 at factor one: of all balanced forces those with the least total normal force of the bearings. */
  private leastNormals(): Outcome {
    this.setFriction(this.atRest);
    this.model.setColumnBounds(this.layout.gravity, this.weight, this.weight);
    this.model.setCost(this.layout.gravity, 0);
    const columns = this.layout.bearings.flatMap(({ points }) => points.flat()).map(({ column }) => column);
    for (const column of columns) this.model.setCost(column, 1);
    const outcome = this.model.solve('cold');
    this.model.mark();
    for (const column of columns) this.model.setCost(column, 0);
    return outcome;
  }

  /** Makes one factor the unknown to be maximised; gravity stays at its weight, other disturbances at zero. */
  private release(column: number): void {
    const resting = this.active === this.layout.gravity ? this.weight : 0;
    this.model.setColumnBounds(this.active, resting, resting);
    this.model.setCost(this.active, 0);
    this.model.setColumnBounds(column, 0, FACTOR_CAP);
    this.model.setCost(column, -1);
    this.active = column;
  }

  /**
   * Decides the doubtful bearings: when all else stands without the lower body, nothing presses on it, and friction
   * there would be a jam. True when some were found to be pressed.
   */
  private settleDoubtful(): boolean {
    if (this.trustAll) return false;
    const doubtful = this.system.bearings.filter(
      (bearing) => pressedByGravity(this.system, bearing) === 'perhaps',
    );
    const needed = new Set<number>();
    for (const lower of new Set(doubtful.map((bearing) => sides(this.system, bearing).lower)))
      if (!this.standsWithout(lower)) needed.add(lower);
    this.atRest = frictionAtRest(this.system, (lower) => needed.has(lower));
    return needed.size > 0;
  }

  private standsWithout(body: number): boolean {
    const rest = new LazyJudge(this.programs, without(this.system, body), [], { cold: true }, true);
    try {
      return rest.gravity().stands;
    } finally {
      rest.dispose();
    }
  }

  private setFriction(bounds: FrictionBounds): void {
    if (this.opened !== undefined && bounds === this.friction) return;
    this.friction = bounds;
    for (const [row, most] of frictionRows(this.layout, bounds))
      this.model.setRowBounds(row, -Infinity, most);
  }

  /** `optimum` is that which found the reserve. */
  private verdictOf(name: string, reserve: number, stands: boolean, optimum: Optimal): Verdict {
    return {
      name,
      reserve,
      stands,
      weakest:
        reserve >= FACTOR_CAP ? undefined : weakestElement(this.system, this.layout, this.friction, optimum),
      forces: this.options.forces === true ? this.forces(optimum) : undefined,
      failure: undefined,
    };
  }

  private forces({ values }: Optimal): ForceSet {
    return forcesOf(this.layout, values, this.active);
  }
}

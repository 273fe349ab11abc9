import { InnerPoint } from '../algorithms/inner-point.js';
import type { Packed } from '../algorithms/linear-program.js';
import type { Layout } from './equilibrium-program.js';
import { frictionByClamping, frictionRows } from './friction-bounds.js';
import type { System } from './system.js';
import type { ForceSet } from './verdict.js';
import { forcesOf } from './verdict-of.js';

/**
 * Lower bounds of reserves that need no linear program: from one set of forces well inside of every limit, found once, each
 * load is led off by forces that grow with it until the first limit is met. Of the friction of a bearing only what its declared
 * clamping gives is counted, so that the bounds do not depend on how gravity shares itself among bearings: what is
 * carried so is carried with any friction of step 1. Nothing is told of a system that does not stand with so little.
 */
export class ProvedReserves {
  private readonly point: InnerPoint | undefined;
  /** Bounds known by now, and what was wanted of them. */
  private readonly known = new Map<number, { readonly bound: number; readonly wanted: number }>();

  constructor(
    system: System,
    program: Packed,
    private readonly layout: Layout,
  ) {
    this.point = InnerPoint.of(weightedAndClamped(system, program, layout));
  }

  /** Gravity is carried at least so many times; zero where that is not known. */
  gravity(wanted = 0): number {
    return this.point === undefined ? 0 : 1 + this.reach(this.layout.gravity, wanted - 1);
  }

  /**
   * A disturbance, by number, is carried at least so many times on top of gravity; zero where that is not known. Less than
   * `wanted` is told only where no more can be found.
   */
  disturbance(index: number, wanted = 0): number {
    return this.reach(this.layout.disturbances[index]!, wanted);
  }

  /** Forces that carry gravity once; undefined where none are known. */
  atRest(): ForceSet | undefined {
    const values = this.point?.values();
    if (values === undefined) return undefined;
    values[this.layout.gravity] = 1;
    return forcesOf(this.layout, values, this.layout.gravity);
  }

  /** Forces that carry a disturbance as often as is told of it for the same `wanted`; undefined where none are known. */
  forces(index: number, wanted: number): ForceSet | undefined {
    const column = this.layout.disturbances[index]!;
    const reached = this.point?.reached(column, wanted);
    if (reached === undefined) return undefined;
    const { length, values } = reached;
    values[this.layout.gravity] = 1;
    values[column] = length;
    return forcesOf(this.layout, values, column);
  }

  private reach(column: number, wanted: number): number {
    const known = this.known.get(column);
    if (known !== undefined && (known.bound >= wanted || known.bound < known.wanted)) return known.bound;
    const bound = this.point?.reach(column, wanted) ?? 0;
    this.known.set(column, { bound, wanted });
    return bound;
  }
}

/** The program with gravity once, and friction by declared clamping and pull alone. */
function weightedAndClamped(system: System, program: Packed, layout: Layout): Packed {
  const [lower, upper, rowUpper] = [program.lower.slice(), program.upper.slice(), program.rowUpper.slice()];
  lower[layout.gravity] = 1;
  upper[layout.gravity] = 1;
  for (const [row, most] of frictionRows(layout, frictionByClamping(system))) rowUpper[row] = most;
  return { ...program, lower, upper, rowUpper };
}

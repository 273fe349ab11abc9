import type { PointStore } from './point-store.js';
import type { StiffnessMatrix } from './stiffness-matrix.js';
import { GROUND } from './system.js';

/**
 * Energy of springs and stops as a function of the scaled motions of the bodies, about one motion that can be advanced.
 * A spring of stiffness k and greatest force F stores k |x|^2 / 2 up to F and goes on along F |x| from there (Huber);
 * a stop stores k x^2 / 2 while it is pressed by x. Both are convex with a continuous slope, so the sum has one least value.
 */
export class SpringEnergy {
  /** Stretch of each spring from where it carries nothing, three numbers each. */
  private readonly stretch: Float64Array;
  /** How far each stop stands open; negative where it is pressed. */
  private readonly open: Float64Array;
  private stretchRate: Float64Array = new Float64Array(0);
  private openRate: Float64Array = new Float64Array(0);

  constructor(
    private readonly springs: PointStore,
    private readonly stops: PointStore,
    motion: Float64Array,
  ) {
    this.stretch = springs.stretches(motion);
    for (let i = 0; i < this.stretch.length; i += 1) this.stretch[i]! -= springs.vectors[i]!;
    this.open = this.openings(motion);
    for (let i = 0; i < stops.count; i += 1) this.open[i]! += stops.laws[2 * i + 1]!;
  }

  /** Whether any spring pulls as hard as it can. */
  get yields(): boolean {
    const { laws, count } = this.springs;
    for (let i = 0; i < count; i += 1) if (laws[2 * i]! * this.size(i) > laws[2 * i + 1]!) return true;
    return false;
  }

  /** Energy stored, N mm, where what has yielded keeps its yield. */
  get stored(): number {
    let sum = 0;
    for (let i = 0; i < this.springs.count; i += 1) {
      const k = this.springs.laws[2 * i]!;
      sum += Math.min(k * this.size(i), this.springs.laws[2 * i + 1]!) ** 2 / (2 * k);
    }
    for (let i = 0; i < this.stops.count; i += 1)
      sum += (this.stops.laws[2 * i]! * Math.min(0, this.open[i]!) ** 2) / 2;
    return sum;
  }

  /** Adds the slope of the energy by each number of the motions to `into`, and gives it back; `elastic` as in `addTangent`. */
  gradient(into: Float64Array, elastic: boolean): Float64Array {
    const { springs, stops } = this;
    for (let i = 0; i < springs.count; i += 1) {
      const factor = elastic ? springs.laws[2 * i]! : this.secant(i);
      addForce(
        into,
        springs,
        i,
        factor * this.stretch[3 * i]!,
        factor * this.stretch[3 * i + 1]!,
        factor * this.stretch[3 * i + 2]!,
      );
    }
    for (let i = 0; i < stops.count; i += 1) {
      const open = this.open[i]!;
      if (open >= 0) continue;
      const push = stops.laws[2 * i]! * open;
      const n = stops.vectors;
      addForce(into, stops, i, push * n[3 * i]!, push * n[3 * i + 1]!, push * n[3 * i + 2]!);
    }
    return into;
  }

  /** Adds the second derivative to a matrix; `elastic` takes every spring as if it did not yield, which errs stiff. */
  addTangent(into: StiffnessMatrix, elastic: boolean): void {
    const { springs, stops } = this;
    for (let i = 0; i < springs.count; i += 1) {
      const size = this.size(i);
      const k = springs.laws[2 * i]!;
      const yields = !elastic && k * size > springs.laws[2 * i + 1]!;
      const across = yields ? springs.laws[2 * i + 1]! / size : k;
      if (across === 0) continue;
      into.addEven(springs, i, across);
      if (!yields) continue;
      const x = this.stretch[3 * i]! / size;
      const y = this.stretch[3 * i + 1]! / size;
      const z = this.stretch[3 * i + 2]! / size;
      into.addPoint(springs, i, x, y, z, -across);
    }
    for (let i = 0; i < stops.count; i += 1) {
      if (this.open[i]! >= 0) continue;
      const n = stops.vectors;
      into.addPoint(stops, i, n[3 * i]!, n[3 * i + 1]!, n[3 * i + 2]!, stops.laws[2 * i]!);
    }
  }

  /** Makes a direction of motion the one that `slope` and `advance` go along. */
  head(direction: Float64Array): void {
    this.stretchRate = this.springs.stretches(direction);
    this.openRate = this.openings(direction);
  }

  /** Slope of the energy along the direction after going `step` of it. */
  slope(step: number): number {
    const { springs, stops, stretch, stretchRate } = this;
    let sum = 0;
    for (let i = 0; i < springs.count; i += 1) {
      const dx = stretchRate[3 * i]!;
      const dy = stretchRate[3 * i + 1]!;
      const dz = stretchRate[3 * i + 2]!;
      const x = stretch[3 * i]! + step * dx;
      const y = stretch[3 * i + 1]! + step * dy;
      const z = stretch[3 * i + 2]! + step * dz;
      const k = springs.laws[2 * i]!;
      const most = springs.laws[2 * i + 1]!;
      const size = Math.sqrt(x * x + y * y + z * z);
      sum += (k * size > most ? most / size : k) * (x * dx + y * dy + z * dz);
    }
    for (let i = 0; i < stops.count; i += 1) {
      const rate = this.openRate[i]!;
      const open = this.open[i]! + step * rate;
      if (open < 0) sum += stops.laws[2 * i]! * open * rate;
    }
    return sum;
  }

  advance(step: number): void {
    for (let i = 0; i < this.stretch.length; i += 1) this.stretch[i]! += step * this.stretchRate[i]!;
    for (let i = 0; i < this.open.length; i += 1) this.open[i]! += step * this.openRate[i]!;
  }

  /** What has yielded keeps it: each spring carries nothing where it would, were it let go of now. */
  keepYield(): void {
    const { springs, stretch } = this;
    for (let i = 0; i < springs.count; i += 1) {
      const size = this.size(i);
      const elastic = springs.laws[2 * i + 1]! / springs.laws[2 * i]!;
      if (size <= elastic) continue;
      const share = 1 - elastic / size;
      for (let axis = 3 * i; axis < 3 * i + 3; axis += 1) springs.vectors[axis]! += share * stretch[axis]!;
    }
  }

  /** Length of the stretch of a spring, mm. */
  private size(i: number): number {
    const x = this.stretch[3 * i]!;
    const y = this.stretch[3 * i + 1]!;
    const z = this.stretch[3 * i + 2]!;
    return Math.sqrt(x * x + y * y + z * z);
  }

  /** Force of a spring over its stretch, N/mm. */
  private secant(i: number): number {
    const k = this.springs.laws[2 * i]!;
    const most = this.springs.laws[2 * i + 1]!;
    const size = this.size(i);
    return k * size > most ? most / size : k;
  }

  private openings(motion: Float64Array): Float64Array {
    const moved = this.stops.stretches(motion);
    const n = this.stops.vectors;
    const out = new Float64Array(this.stops.count);
    for (let i = 0, at = 0; i < out.length; i += 1, at += 3)
      out[i] = moved[at]! * n[at]! + moved[at + 1]! * n[at + 1]! + moved[at + 2]! * n[at + 2]!;
    return out;
  }
}

/** Adds a force on b and its opposite on a, with their moments, to the numbers of the two bodies. */
function addForce(into: Float64Array, points: PointStore, i: number, x: number, y: number, z: number): void {
  for (let end = 0; end < 2; end += 1) {
    const body = points.bodies[2 * i + end]!;
    if (body === GROUND) continue;
    const sign = end === 0 ? -1 : 1;
    const arm = 6 * i + 3 * end;
    const rx = points.arms[arm]!;
    const ry = points.arms[arm + 1]!;
    const rz = points.arms[arm + 2]!;
    const m = 6 * body;
    into[m]! += sign * x;
    into[m + 1]! += sign * y;
    into[m + 2]! += sign * z;
    into[m + 3]! += sign * (ry * z - rz * y);
    into[m + 4]! += sign * (rz * x - rx * z);
    into[m + 5]! += sign * (rx * y - ry * x);
  }
}

import type { Vec3 } from '../geometry/vector.js';
import { GROUND } from './system.js';

/**
 * Turns are kept as radians times this length, mm, and lever arms as mm over it, so that moves and turns are numbers
 * of one size and the linear systems are well scaled.
 */
export const TURN_LENGTH = 100;

/** A spring between two bodies, the same in every direction: its force grows until it reaches `most`, then it yields. */
export interface Spring {
  /** Body number or GROUND. */
  readonly a: number;
  readonly b: number;
  /** Where it sits, mm, in the shape that nothing has moved yet. */
  readonly at: Vec3;
  /** N/mm, above zero. */
  readonly stiffness: number;
  /** Force at which it yields, N; Infinity for never, 0 for a spring that carries nothing. */
  readonly most: number;
  /** Displacement of b against a, at `at`, that it wants once born, mm; none when left out. */
  readonly shrink?: Vec3 | undefined;
}

/** A point where a may push b along `normal` and never pull. */
export interface Stop {
  readonly a: number;
  readonly b: number;
  readonly at: Vec3;
  /** Unit vector from a into b. */
  readonly normal: Vec3;
  /** N/mm. */
  readonly stiffness: number;
  /** How far it stands open when nothing has moved, mm. */
  readonly gap: number;
}

/** Puts the lever arm of a point about the centre of a body, over TURN_LENGTH, into `into`; nothing for the ground. */
export function putArm(
  into: Float64Array,
  at: number,
  centres: Float64Array,
  body: number,
  point: Vec3,
): void {
  for (let axis = 0; axis < 3; axis += 1)
    into[at + axis] = body === GROUND ? 0 : (point[axis]! - centres[3 * body + axis]!) / TURN_LENGTH;
}

/** Adds `sign` times the displacement, by scaled motions, of the point of a body at a lever arm to `into`. */
export function addDisplacement(
  into: Float64Array,
  at: number,
  motion: Float64Array,
  body: number,
  arms: Float64Array,
  arm: number,
  sign: number,
): void {
  if (body === GROUND) return;
  const m = 6 * body;
  const rx = arms[arm]!;
  const ry = arms[arm + 1]!;
  const rz = arms[arm + 2]!;
  const tx = motion[m + 3]!;
  const ty = motion[m + 4]!;
  const tz = motion[m + 5]!;
  into[at] = into[at]! + sign * (motion[m]! + ty * rz - tz * ry);
  into[at + 1] = into[at + 1]! + sign * (motion[m + 1]! + tz * rx - tx * rz);
  into[at + 2] = into[at + 2]! + sign * (motion[m + 2]! + tx * ry - ty * rx);
}

const doubled = <T extends Float64Array | Int32Array>(old: T, made: T): T => {
  made.set(old);
  return made;
};

/** Points that join two bodies each: their numbers, their two lever arms, and numbers of their own, in flat arrays. */
export class PointStore {
  count = 0;
  /** a, b of each. */
  bodies = new Int32Array(32);
  /** Lever arms about the centres of a and of b. */
  arms = new Float64Array(96);
  /** Handle under which it was added. */
  owners = new Int32Array(16);
  /** Stiffness and a second number: the greatest force of a spring, the gap of a stop. */
  laws = new Float64Array(32);
  /** Displacement of b against a at which a spring carries nothing; the normal of a stop. */
  vectors = new Float64Array(48);

  copy(): PointStore {
    const made = new PointStore();
    made.count = this.count;
    made.bodies = this.bodies.slice();
    made.arms = this.arms.slice();
    made.owners = this.owners.slice();
    made.laws = this.laws.slice();
    made.vectors = this.vectors.slice();
    return made;
  }

  push(
    owner: number,
    centres: Float64Array,
    { a, b, at }: { readonly a: number; readonly b: number; readonly at: Vec3 },
    law: readonly [number, number],
    vector: Vec3,
  ): void {
    if (this.count === this.owners.length) this.grow();
    const i = this.count;
    this.bodies[2 * i] = a;
    this.bodies[2 * i + 1] = b;
    putArm(this.arms, 6 * i, centres, a, at);
    putArm(this.arms, 6 * i + 3, centres, b, at);
    this.owners[i] = owner;
    this.laws.set(law, 2 * i);
    this.vectors.set(vector, 3 * i);
    this.count += 1;
  }

  /** Takes away what was added under a handle; the rest keeps its order. */
  drop(owner: number): void {
    let kept = 0;
    for (let i = 0; i < this.count; i += 1) {
      if (this.owners[i] === owner) continue;
      if (kept < i) this.moveTo(i, kept);
      kept += 1;
    }
    this.count = kept;
  }

  /** Displacement of b against a at each point by scaled motions: three numbers each. */
  stretches(motion: Float64Array): Float64Array {
    const out = new Float64Array(3 * this.count);
    for (let i = 0; i < this.count; i += 1) {
      addDisplacement(out, 3 * i, motion, this.bodies[2 * i]!, this.arms, 6 * i, -1);
      addDisplacement(out, 3 * i, motion, this.bodies[2 * i + 1]!, this.arms, 6 * i + 3, 1);
    }
    return out;
  }

  private moveTo(from: number, to: number): void {
    this.bodies.copyWithin(2 * to, 2 * from, 2 * from + 2);
    this.arms.copyWithin(6 * to, 6 * from, 6 * from + 6);
    this.owners.copyWithin(to, from, from + 1);
    this.laws.copyWithin(2 * to, 2 * from, 2 * from + 2);
    this.vectors.copyWithin(3 * to, 3 * from, 3 * from + 3);
  }

  private grow(): void {
    const size = 2 * this.owners.length;
    this.bodies = doubled(this.bodies, new Int32Array(2 * size));
    this.arms = doubled(this.arms, new Float64Array(6 * size));
    this.owners = doubled(this.owners, new Int32Array(size));
    this.laws = doubled(this.laws, new Float64Array(2 * size));
    this.vectors = doubled(this.vectors, new Float64Array(3 * size));
  }
}

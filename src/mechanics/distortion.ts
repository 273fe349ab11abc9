import type { Vec3 } from '../geometry/vector.js';
import { add, length, scale, subtract, withPlainZeros } from '../geometry/vector.js';
import { settleAt } from './least-energy.js';
import { addDisplacement, PointStore, putArm, TURN_LENGTH, type Spring, type Stop } from './point-store.js';
import { GROUND } from './system.js';

export { tackSprings, type TackMetal } from './tack-springs.js';
export type { Spring, Stop } from './point-store.js';

/**
 * How a set of rigid bodies moves when springs between them are born, shrink, yield and are taken away: every body has
 * six small displacements about its centre, so turns add up and points move by turn x arm. Plasticity is that of one
 * step: from one settling to the next a spring yields in the direction in which it is stretched at the end.
 */
export class Distortion {
  private springs = new PointStore();
  private stops = new PointStore();
  private motions: Float64Array;
  private centres: Float64Array;
  private handles = 0;

  /** Centres of the bodies, mm. All are there from the start; one that nothing holds stays where it is. */
  constructor(centres: readonly Vec3[]) {
    this.centres = Float64Array.from(centres.flat());
    this.motions = new Float64Array(6 * centres.length);
  }

  /** One that goes its own way from here on. */
  copy(): Distortion {
    const made = new Distortion([]);
    made.centres = this.centres;
    made.handles = this.handles;
    made.springs = this.springs.copy();
    made.stops = this.stops.copy();
    made.motions = this.motions.slice();
    return made;
  }

  /** Adds springs born stress-free in the shape of the moment, apart from what they shrink; gives a handle. */
  add(springs: readonly Spring[]): number {
    const handle = this.handles;
    this.handles += 1;
    for (const spring of springs) {
      const { a, b, at, stiffness, most, shrink } = spring;
      const apart = subtract(this.displacement(b, at), this.displacement(a, at));
      this.springs.push(handle, this.centres, spring, [stiffness, most], shrink ? add(apart, shrink) : apart);
    }
    return handle;
  }

  /** Takes springs or stops away; nothing moves until it settles. */
  remove(handle: number): void {
    this.springs.drop(handle);
    this.stops.drop(handle);
  }

  /** Adds stops; gives a handle, as for springs. */
  addStops(stops: readonly Stop[]): number {
    const handle = this.handles;
    this.handles += 1;
    for (const stop of stops)
      this.stops.push(handle, this.centres, stop, [stop.stiffness, stop.gap], stop.normal);
    return handle;
  }

  /** Puts a body anew at zero displacement, as one that is brought in; before anything is added to it. */
  place(body: number): void {
    this.motions.fill(0, 6 * body, 6 * body + 6);
  }

  /**
   * Moves everything to the least energy of springs, yield and stops; what has yielded keeps its yield. Gives the energy
   * that is stored then, N mm, and the Newton steps it took. Throws an Error on a defect only.
   */
  settle(): { readonly energy: number; readonly steps: number } {
    const { energy, steps } = settleAt(this.springs, this.stops, this.motions);
    energy.keepYield();
    return { energy: energy.stored, steps };
  }

  /** Move of the centre of a body, mm, and turn, radians. */
  motion(body: number): { readonly move: Vec3; readonly turn: Vec3 } {
    const three = (from: number, over: number): Vec3 => {
      const m = this.motions;
      return withPlainZeros([m[from]! / over, m[from + 1]! / over, m[from + 2]! / over]);
    };
    return { move: three(6 * body, 1), turn: three(6 * body + 3, TURN_LENGTH) };
  }

  /** Displacement, mm, of the point of a body that was at `at`; zero for GROUND. */
  displacement(body: number, at: Vec3): Vec3 {
    const moved = new Float64Array(3);
    if (body !== GROUND) {
      const arm = new Float64Array(3);
      putArm(arm, 0, this.centres, body, at);
      addDisplacement(moved, 0, this.motions, body, arm, 0, 1);
    }
    return [moved[0]!, moved[1]!, moved[2]!];
  }

  /** Force of each spring of a handle on its b, N, in the order in which they were added. */
  force(handle: number): readonly Vec3[] {
    const { owners, count, laws, vectors } = this.springs;
    const stretches = this.springs.stretches(this.motions);
    const forces: Vec3[] = [];
    for (let i = 0; i < count; i += 1) {
      if (owners[i] !== handle) continue;
      const [from, to] = [vectors.subarray(3 * i), stretches.subarray(3 * i)];
      const stretch: Vec3 = [to[0]! - from[0]!, to[1]! - from[1]!, to[2]! - from[2]!];
      const size = length(stretch);
      const [k, most] = [laws[2 * i]!, laws[2 * i + 1]!];
      const factor = k * size > most ? most / size : k;
      forces.push(withPlainZeros(scale(stretch, -factor)));
    }
    return forces;
  }
}

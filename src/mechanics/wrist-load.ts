import { addInertia, pointInertia, type Inertia } from '../geometry/mass.js';
import { axisZ, type Pose } from '../geometry/pose.js';
import { about, largestAcross, largestPrincipal } from '../geometry/principal.js';
import { distance, subtract, type Vec3 } from '../geometry/vector.js';
import { STANDARD_GRAVITY } from './system.js';

/** A body that an arm carries: mass in kg, centre in mm, inertia about its centre in kg mm2. */
export interface CarriedBody {
  readonly mass: number;
  readonly centre: Vec3;
  readonly inertia: Inertia;
}

/** What an arm carries, at the worst turn of its wrist. */
export interface WristLoad {
  /** kg */
  readonly mass: number;
  /** Static moment about the wrist centre, N mm: each body as if level with it and all pulling one way. */
  readonly moment: number;
  /**
   * Moments of inertia about axes 4, 5 and 6, kg m2. All three pass through the wrist centre; axis 6 is the flange
   * axis, axis 5 is square to it, and axis 4 may be at any angle to both, so for these two the worst direction counts.
   */
  readonly inertia: readonly [number, number, number];
}

const SQUARE_METRES = 1e-6;

/** The load of bodies on a wrist; `wrist` is its centre with the z axis along the flange axis, same frame as the bodies. */
export function wristLoad(bodies: readonly CarriedBody[], wrist: Pose): WristLoad {
  const total = bodies
    .map(({ mass, centre, inertia }) => addInertia(inertia, pointInertia(subtract(centre, wrist.at), mass)))
    .reduce(addInertia);
  return {
    mass: bodies.reduce((sum, { mass }) => sum + mass, 0),
    moment:
      STANDARD_GRAVITY * bodies.reduce((sum, { mass, centre }) => sum + mass * distance(wrist.at, centre), 0),
    inertia: [
      largestPrincipal(total) * SQUARE_METRES,
      largestAcross(total, wrist.turn) * SQUARE_METRES,
      about(total, axisZ(wrist.turn)) * SQUARE_METRES,
    ],
  };
}

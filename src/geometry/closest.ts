import { Simplex } from './simplex.js';
import { type Vec3 } from './vector.js';

/** How far apart two convex hulls are, and which way. */
export interface Closest {
  /** mm, to 1e-6 (mostly 1e-9) for parts of metres; 0 when the hulls touch or overlap. */
  readonly distance: number;
  /** A distance that is surely not undercut along `direction`, mm: at most `distance`, by rounding only. */
  readonly bound: number;
  /** Unit vector from the first hull to the second; undefined when the distance is 0. */
  readonly direction: Vec3 | undefined;
}

/** Nearer than this, mm, is touching. */
const TOUCHING = 1e-9;
/** The search ends when the answer exceeds the true distance by no more than this, mm. */
const ACCURACY = 1e-10;
const MOST_ROUNDS = 200;
/** Where a search begins that is not given a guess. */
const BACKWARD: Vec3 = [-1, 0, 0];

/** Serves every search: none begins before the last has ended. */
const SIMPLEX = new Simplex();

/** Where among flat coordinates the point begins that goes least far along x, y, z. */
function least(coordinates: Float64Array, x: number, y: number, z: number): number {
  let at = 0;
  let lowest = Infinity;
  for (let i = 0; i < coordinates.length; i += 3) {
    const along = coordinates[i]! * x + coordinates[i + 1]! * y + coordinates[i + 2]! * z;
    if (along < lowest) {
      lowest = along;
      at = i;
    }
  }
  return at;
}

/**
 * Distance between the convex hulls of two sets of points (flat x, y, z), the first moved by `offset`: the algorithm of
 * Gilbert, Johnson and Keerthi (1988) on the Minkowski difference, in double precision. Each round must come nearer to
 * the origin, so it ends also for touching, flat or repeated points. It ends early as soon as it is sure that
 * the hulls are at least `far` mm apart (then `bound` says so) or less than `near` (then `distance` does).
 * `guess` is a direction from the first to the second to begin with.
 */
export function closest(
  a: Float64Array,
  b: Float64Array,
  offset: Vec3,
  near = 0,
  far = Infinity,
  guess: Vec3 = BACKWARD,
): Closest {
  const offX = offset[0];
  const offY = offset[1];
  const offZ = offset[2];
  const nearest = SIMPLEX;
  // The point of the difference that goes least far along a direction: the one against `guess` first, then `nearest` itself.
  let from = least(a, -guess[0], -guess[1], -guess[2]);
  let to = least(b, guess[0], guess[1], guess[2]);
  nearest.start(a[from]! + offX - b[to]!, a[from + 1]! + offY - b[to + 1]!, a[from + 2]! + offZ - b[to + 2]!);
  let bound = 0;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const { x, y, z } = nearest;
    const distance = Math.sqrt(nearest.squared);
    if (distance <= TOUCHING) return { distance: 0, bound: 0, direction: undefined };
    from = least(a, x, y, z);
    to = least(b, -x, -y, -z);
    const cornerX = a[from]! + offX - b[to]!;
    const cornerY = a[from + 1]! + offY - b[to + 1]!;
    const cornerZ = a[from + 2]! + offZ - b[to + 2]!;
    bound = (x * cornerX + y * cornerY + z * cornerZ) / distance;
    if (distance - bound <= ACCURACY || distance < near || bound >= far) break;
    if (!nearest.add(cornerX, cornerY, cornerZ)) break;
  }
  const distance = Math.sqrt(nearest.squared);
  const away = -1 / distance;
  return {
    distance,
    bound: Math.min(Math.max(bound, 0), distance),
    direction: [nearest.x * away, nearest.y * away, nearest.z * away],
  };
}

import { Simplex } from './simplex.js';
import { scale, type Vec3 } from './vector.js';

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
 * the origin, so it ends also for touching, flat or repeated points. With `enough` it ends early, as soon as it is sure that
 * the hulls are at least `enough[1]` mm apart (then `bound` says so) or less than `enough[0]` (then `distance` does).
 * `guess` is a direction from the first to the second to begin with.
 */
export function closest(
  a: Float64Array,
  b: Float64Array,
  offset: Vec3,
  enough: readonly [low: number, high: number] = [0, Infinity],
  guess: Vec3 = [-1, 0, 0],
): Closest {
  const [offX, offY, offZ] = offset;
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
    if (distance - bound <= ACCURACY || distance < enough[0] || bound >= enough[1]) break;
    if (!nearest.add(cornerX, cornerY, cornerZ)) break;
  }
  const distance = Math.sqrt(nearest.squared);
  return {
    distance,
    bound: Math.min(Math.max(bound, 0), distance),
    direction: scale([nearest.x, nearest.y, nearest.z], -1 / distance),
  };
}

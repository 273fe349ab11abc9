import { rounded } from '../base/order.js';
import { closest } from './closest.js';
import { shrunkCorners } from './shrink.js';
import type { Solid } from './solid.js';
import type { Vec3 } from './vector.js';
import { scale } from './vector.js';

/** What a straight move meets: nothing, or something after `at` mm of way. */
export type FirstContact = { readonly kind: 'free' } | { readonly kind: 'contact'; readonly at: number };

const FREE: FirstContact = { kind: 'free' };

/** The least tolerance, mm: below it, sliding could not be told from striking by distances. */
export const LEAST_TOLERANCE = 1e-3;
/** Nearer than this, mm, counts as contact. */
const CONTACT = 1e-5;
const WAY_DIGITS = 6;
const MOST_STEPS = 500;

/**
 * Where one hull moving along `direction` first comes to touch another, at most `travel` mm on; undefined when never.
 * Distance is a convex function of the way, so advancing by distance over closing speed never jumps a contact (Mirtich
 * 1996, conservative advancement), and a speed that is not closing any more means that none will come. Should it not
 * end in MOST_STEPS, that counts as contact: the cautious side.
 */
function touchesAt(
  moving: Float64Array,
  direction: Vec3,
  travel: number,
  fixed: Float64Array,
): number | undefined {
  let way = 0;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const apart = closest(moving, fixed, scale(direction, way));
    if (apart.distance <= CONTACT || apart.direction === undefined) return way;
    const [x, y, z] = apart.direction;
    const closing = x * direction[0] + y * direction[1] + z * direction[2];
    if (closing <= 0) return undefined;
    way += apart.bound / closing;
    if (way > travel) return undefined;
  }
  return way;
}

/**
 * Moves a solid by `direction` (unit vector) up to `travel` mm towards a fixed one and tells where it first reaches
 * deeper into it than `tolerance` mm (at least LEAST_TOLERANCE). Judged by distances only, with the pieces of the
 * moving solid shrunk by the tolerance, so that sliding along a touching face is free; near an edge or a corner the
 * depth that counts is up to 1.8 times the tolerance, more at a sharp one.
 */
export function firstContact(
  moving: Solid,
  direction: Vec3,
  travel: number,
  fixed: Solid,
  tolerance: number,
): FirstContact {
  let reach = travel;
  let met = false;
  for (const piece of moving.pieces) {
    const shrunk = shrunkCorners(piece, Math.max(tolerance, LEAST_TOLERANCE));
    for (const obstacle of fixed.pieces) {
      const at = touchesAt(shrunk, direction, reach, obstacle.coordinates);
      if (at === undefined) continue;
      reach = at;
      met = true;
    }
  }
  return met ? { kind: 'contact', at: rounded(reach, WAY_DIGITS) } : FREE;
}

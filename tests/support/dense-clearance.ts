import { boxPiece } from '../../src/geometry/convex.js';
import { hullDistance, type RoundedHull } from '../../src/geometry/rounded-hull.js';
import { placedHull } from './rounded-hulls.js';
import { NO_TURN } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { Joints } from '../../src/kinematics/arm.js';
import type { ArmBody } from '../../src/kinematics/arm-body.js';
import { elementsAt } from '../../src/kinematics/arm-sample.js';
import { between } from '../../src/kinematics/clear-path.js';

/** A box of full sizes, upright, by its middle. */
export const boxHull = (size: Vec3, at: Vec3): RoundedHull =>
  placedHull(boxPiece([size[0] / 2, size[1] / 2, size[2] / 2]).vertices, 0, { at, turn: NO_TURN });

/** Many postures in turn along joint moves through all of a way, both ends of each included. */
export const densely = (way: readonly Joints[], samples: number): readonly Joints[] =>
  way
    .slice(1)
    .flatMap((to, i) => Array.from({ length: samples + 1 }, (_, k) => between(way[i]!, to, k / samples)));

/** The least distance of some things from the elements of an arm, from the `first` on, at any of some postures. */
export function leastDistance(
  body: ArmBody,
  postures: readonly Joints[],
  things: readonly RoundedHull[],
  first = 0,
): number {
  let least = Infinity;
  for (const joints of postures)
    for (const { hull } of elementsAt(body, joints).slice(first))
      for (const thing of things) least = Math.min(least, hullDistance(hull, thing));
  return least;
}

import { setOf, type PartSet } from '../base/part-set.js';
import { sweepHits } from '../geometry/sweep.js';
import { IDENTITY } from '../geometry/pose.js';
import { negate } from '../geometry/vector.js';
import type { FaceName } from '../model/scalars.js';
import type { Solid } from '../geometry/solid.js';
import { gripperSolid, lyingPose } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Approach } from './approaches.js';
import { drawnBack } from './gripper-drawn-back.js';
import type { Grip } from './grips.js';

/** What a gripper would hit while it brings a part along an approach, and while it leaves. */
export interface GripperHits {
  readonly parts: PartSet;
  /** The table or a keep-out is hit: the grip is no use here. */
  readonly fixed: boolean;
}

/**
 * The gripper's envelope swept back along the approach and drawn back along the grip, against everything; without an
 * approach it takes hold of a part that is in place already, along the grip both ways.
 */
export function gripperHits(
  scene: Scene,
  part: number,
  grip: Grip,
  approach: Approach | undefined,
  settings: Settings,
): GripperHits {
  const { pose, part: own } = scene.parts[part]!;
  const { 'touch-tolerance': tolerance } = settings.motion;
  const gripper = drawnBack(own.shape, pose, grip, grip.gripper, settings);
  const hits = (solid: Solid): boolean =>
    gripper.meets(solid) ||
    (approach !== undefined &&
      sweepHits(gripper.solid, negate(approach.direction), approach.distance, solid, tolerance));
  return {
    parts: setOf(
      scene.parts.length,
      scene.parts.flatMap(({ solid }, i) => (i !== part && hits(solid) ? [i] : [])),
    ),
    fixed: [scene.table, ...scene.keepOuts].some(hits),
  };
}

/**
 * All that may be in the way of a gripper at a grip, as a set of numbers: the parts it meets in the final place of its
 * own, as it sits and drawn straight back; after them the table and the keep-outs, met likewise; after them each of
 * the rests, on which the gripper would reach below the top that the part lies on.
 */
export function obstaclesMet(
  scene: Scene,
  part: number,
  grip: Grip,
  rests: readonly FaceName[],
  settings: Settings,
): PartSet {
  const { pose, part: own } = scene.parts[part]!;
  const { meets } = drawnBack(own.shape, pose, grip, grip.gripper, settings);
  const below = (rest: FaceName): boolean =>
    gripperSolid(own.shape, lyingPose(own.shape, rest, IDENTITY, 0), grip, grip.gripper).bounds.low[2] <
    -1e-6;
  const met = [
    ...scene.parts.map(({ solid }, i) => i !== part && meets(solid)),
    ...[scene.table, ...scene.keepOuts].map(meets),
    ...rests.map(below),
  ];
  return setOf(
    met.length,
    met.flatMap((isMet, i) => (isMet ? [i] : [])),
  );
}

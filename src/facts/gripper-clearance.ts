import { setOf, type PartSet } from '../base/part-set.js';
import { solidsOverlap } from '../geometry/separation.js';
import { sweepHits } from '../geometry/sweep.js';
import { negate } from '../geometry/vector.js';
import type { Solid } from '../geometry/solid.js';
import { gripperSolid, padsInCell } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Approach } from './approaches.js';
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
  const { 'touch-tolerance': tolerance, 'approach-distance': drawBack } = settings.motion;
  const gripper = gripperSolid(own.shape, pose, grip, grip.gripper);
  const away = negate(padsInCell(own.shape, pose, grip, grip.gripper).into);
  const hits = (solid: Solid): boolean =>
    solidsOverlap(gripper, solid, tolerance) ||
    (approach !== undefined &&
      sweepHits(gripper, negate(approach.direction), approach.distance, solid, tolerance)) ||
    sweepHits(gripper, away, drawBack, solid, tolerance);
  return {
    parts: setOf(
      scene.parts.length,
      scene.parts.flatMap(({ solid }, i) => (i !== part && hits(solid) ? [i] : [])),
    ),
    fixed: [scene.table, ...scene.keepOuts].some(hits),
  };
}

/** Parts that a gripper at a grip meets in the final place of its part, as it sits and drawn straight back. */
export function partsMet(scene: Scene, part: number, grip: Grip, settings: Settings): PartSet {
  const { pose, part: own } = scene.parts[part]!;
  const { 'touch-tolerance': tolerance, 'approach-distance': drawBack } = settings.motion;
  const gripper = gripperSolid(own.shape, pose, grip, grip.gripper);
  const away = negate(padsInCell(own.shape, pose, grip, grip.gripper).into);
  const met = scene.parts.flatMap(({ solid }, i) => {
    if (i === part) return [];
    const meets =
      solidsOverlap(gripper, solid, tolerance) || sweepHits(gripper, away, drawBack, solid, tolerance);
    return meets ? [i] : [];
  });
  return setOf(scene.parts.length, met);
}

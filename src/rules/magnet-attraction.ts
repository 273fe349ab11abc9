import { closest } from '../geometry/closest.js';
import { flatten } from '../geometry/convex.js';
import type { Pose } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import { add, along, cross, negate, ORIGIN, perpendicular, scale, type Vec3 } from '../geometry/vector.js';
import { gapShare, magnetPull, temperatureFactor } from '../mechanics/pads.js';
import { thicknessAt } from '../model/group.js';
import type { MagnetGripper } from '../model/gripper.js';
import { padsInCell, type PlacedPad } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { HeldPart } from './assembly.js';
import { loadOn, type PartLoad } from './load-cases.js';

/** What a magnet pad does to a part that it does not hold. Cell frame, N and mm. */
export interface Attraction {
  /** Index of the neighbour. */
  readonly part: number;
  /** On the neighbour, toward the pad. */
  readonly force: Vec3;
  /** On the line from the middle of the pad along which the neighbour is nearest, at its distance. */
  readonly at: Vec3;
  /** Distance from the pad to the neighbour. */
  readonly gap: number;
}

/** Corners of the polygon that stands for a round pad; it contains the disc. */
const SIDES = 16;

/** The disc of a pad as the corners of a polygon around it. */
function discAround({ at, into }: PlacedPad, radius: number): Float64Array {
  const x = perpendicular(into);
  const y = cross(into, x);
  const outer = radius / Math.cos(Math.PI / SIDES);
  const corners = Array.from({ length: SIDES }, (_, i) => {
    const angle = (2 * Math.PI * i) / SIDES;
    return add(at, add(scale(x, outer * Math.cos(angle)), scale(y, outer * Math.sin(angle))));
  });
  return flatten(corners);
}

/** Gap from a pad to a solid and the direction to it; straight out of the pad's back when they touch. */
function nearest(disc: Float64Array, pad: PlacedPad, solid: Solid): { gap: number; way: Vec3 } {
  let best: { gap: number; way: Vec3 } | undefined;
  for (const { coordinates } of solid.pieces) {
    const { distance, direction } = closest(disc, coordinates, ORIGIN);
    if (best === undefined || distance < best.gap)
      best = { gap: distance, way: direction ?? negate(pad.into) };
  }
  return best!;
}

/** The strongest pull that a pad can have on a neighbour across a gap, N: without the loss by scale and paint. */
const pullAcross = (
  scene: Scene,
  part: number,
  gripper: MagnetGripper,
  { gap, at }: Pick<Attraction, 'gap' | 'at'>,
): number =>
  magnetPull({
    ratedPull: gripper.pullPerPad,
    gapFactor: gapShare(gap),
    thickness: thicknessAt(scene.parts[part]!, at),
    ratedThickness: gripper.ratedThickness,
    materialFactor: scene.parts[part]!.part.material.magnetic,
    temperatureFactor: temperatureFactor(gripper.temperature, gripper.grade),
  });

/**
 * How the energised pads that hold a part pull at the other steel parts near them: one force for each pad and neighbour
 * nearer than the gripper's attraction distance. `pose` is that of the held part. An estimate on the safe side: the
 * held part takes nothing of the field away, neither do the neighbours from one another. Nothing for other grippers.
 */
export function magnetAttraction(
  scene: Scene,
  { part, grip, gripper }: HeldPart,
  others: readonly number[],
  pose: Pose = scene.parts[part]!.pose,
): readonly Attraction[] {
  if (gripper.kind !== 'magnet') return [];
  const { pads } = padsInCell(scene.parts[part]!.part.shape, pose, grip, gripper);
  return pads.flatMap((pad) => {
    const disc = discAround(pad, gripper.padDiameter / 2);
    return others.flatMap((other): Attraction[] => {
      if (other === part) return [];
      const { gap, way } = nearest(disc, pad, scene.parts[other]!.solid);
      if (gap > gripper.attractionDistance) return [];
      const at = along(pad.at, way, gap);
      const pull = pullAcross(scene, other, gripper, { gap, at });
      if (pull <= 0) return [];
      return [{ part: other, force: scale(way, -pull), at, gap }];
    });
  });
}

/** The same as loads, one for each part that is attracted. */
export function attractionLoads(scene: Scene, held: HeldPart, inPlace: readonly number[]): PartLoad[] {
  const all = magnetAttraction(scene, held, inPlace);
  return [...new Set(all.map(({ part }) => part))].map((part) =>
    loadOn(
      part,
      `magnet attraction on ${scene.parts[part]!.part.id}`,
      all.filter((one) => one.part === part),
    ),
  );
}

import type { ConvexPiece } from '../geometry/convex.js';
import { compose, inverse, place, rotate } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import { along, dot, length, scale, subtract, unit } from '../geometry/vector.js';
import { tackBead } from '../model/bead.js';
import { groupFrame, groupPose, type GroupMetal } from '../model/group-part.js';
import type { GeometricPlan } from '../model/plan.js';
import type { MemberTack } from '../model/shape.js';
import type { LyingSubAssembly } from '../model/sub-assembly.js';
import type { Weldment } from '../model/weldment.js';
import { everyTack } from './stage-tacks.js';

/** Shorter than this is no length, mm. */
const NONE = 1e-3;

/**
 * The tacks within a sub-assembly, in the frame of its shape, as its own plan has them. Tacks without a seam, a way or a size are
 * left out: they are the matter of rules on that plan, and what is left out holds nothing.
 */
export function groupMetal(
  weldment: Weldment,
  group: LyingSubAssembly,
  { joints, stages }: Pick<GeometricPlan, 'joints' | 'stages'>,
): GroupMetal {
  const toShape = inverse(compose(groupFrame(weldment, group), groupPose(weldment, group)));
  const beads: ConvexPiece[] = [];
  const tacks: MemberTack[] = [];
  for (const tack of stages.flatMap(everyTack)) {
    const joint = joints.find(({ id }) => id === tack.joint);
    const seam = joint?.seams.find(({ id }) => id === tack.seam);
    if (joint === undefined || seam === undefined || !(tack.length > 0) || !(tack.leg > 0)) continue;
    const run = subtract(seam.to, seam.from);
    if (length(run) < NONE) continue;
    const way = unit(run);
    const square = subtract(seam.open, scale(way, dot(seam.open, way)));
    if (length(square) < NONE) continue;
    const start = along(seam.from, way, tack.start);
    const bead = tackBead(start, way, unit(square), tack.length, tack.leg);
    beads.push(...placeSolid(bead, toShape).pieces);
    tacks.push({
      between: joint.between,
      at: place(toShape, along(start, way, tack.length / 2)),
      along: rotate(toShape.turn, way),
      ...{ length: tack.length, strength: tack.strength },
    });
  }
  return { beads, tacks };
}

import type { ConvexPiece } from '../geometry/convex.js';
import { compose, inverse } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import { along, dot, length, scale, subtract, unit } from '../geometry/vector.js';
import { tackBead } from '../model/bead.js';
import { groupFrame, groupPart } from '../model/group-part.js';
import type { GeometricPlan } from '../model/plan.js';
import type { LyingSubAssembly } from '../model/sub-assembly.js';
import type { Weldment } from '../model/weldment.js';
import { everyTack } from './stage-tacks.js';

/** Shorter than this is no length, mm. */
const NONE = 1e-3;

/**
 * The metal of the tacks within a sub-assembly, in the frame of its shape, as its own plan has them. Tacks without a seam, a way
 * or a size are left out: they are the matter of rules on that plan.
 */
export function groupBeads(
  weldment: Weldment,
  group: LyingSubAssembly,
  { joints, stages }: Pick<GeometricPlan, 'joints' | 'stages'>,
): readonly ConvexPiece[] {
  const toShape = inverse(compose(groupFrame(weldment, group), groupPart(weldment, group, []).pose));
  return stages.flatMap(everyTack).flatMap((tack) => {
    const joint = joints.find(({ id }) => id === tack.joint);
    const seam = joint?.seams.find(({ id }) => id === tack.seam);
    if (seam === undefined || !(tack.length > 0) || !(tack.leg > 0)) return [];
    const run = subtract(seam.to, seam.from);
    if (length(run) < NONE) return [];
    const way = unit(run);
    const square = subtract(seam.open, scale(way, dot(seam.open, way)));
    if (length(square) < NONE) return [];
    const bead = tackBead(along(seam.from, way, tack.start), way, unit(square), tack.length, tack.leg);
    return placeSolid(bead, toShape).pieces;
  });
}

import { IDENTITY } from '../geometry/pose.js';
import { add, along, distance, dot, length, scale, subtract, type Vec3 } from '../geometry/vector.js';
import type { Gripper } from '../model/gripper.js';
import { padsInCell, type GripPlace, type PlacedPads } from '../model/placement.js';
import type { Shape } from '../model/shape.js';

/** How far the centre of mass is from the line of pull of the pads in use: grips near it come first. */
function eccentricity(centre: Vec3, { pads, into }: PlacedPads): number {
  const middle = scale(pads.map(({ at }) => at).reduce(add), 1 / pads.length);
  const off = subtract(centre, middle);
  return length(along(off, into, -dot(off, into)));
}

/** A seam of the part as a straight run in the part's own frame. */
export interface OwnSeam {
  readonly from: Vec3;
  readonly to: Vec3;
}

const SEAM_STEP = 10;

/** Points along seams, a step apart or nearly so, both ends included. */
export const pointsAlong = (seams: readonly OwnSeam[]): readonly Vec3[] =>
  seams.flatMap(({ from, to }) => {
    const count = Math.max(1, Math.round(distance(from, to) / SEAM_STEP));
    return Array.from({ length: count + 1 }, (_, i) => along(from, subtract(to, from), i / count));
  });

/** Which points along the part's seams lie too near to the grip's pads to be tacked while they hold. */
export const coveredPoints = (
  shape: Shape,
  points: readonly Vec3[],
  grip: GripPlace,
  gripper: Gripper,
): readonly boolean[] => coveredBy(padsInCell(shape, IDENTITY, grip, gripper), gripper, points);

function coveredBy({ pads }: PlacedPads, gripper: Gripper, points: readonly Vec3[]): readonly boolean[] {
  const near = gripper.arcDistance + gripper.padDiameter / 2;
  return points.map((point) => pads.some(({ at }) => distance(at, point) < near));
}

/** Millimetres off the centre of mass that a grip may be worse for leaving all seams free instead of none. */
const SEAM_WORTH = 150;

/** What grips are ranked by, mm: how far they hold from the centre of mass, and what they cover of the seams. */
export function gripWorth(
  shape: Shape,
  centre: Vec3,
  points: readonly Vec3[],
  grip: GripPlace,
  gripper: Gripper,
): number {
  const placed = padsInCell(shape, IDENTITY, grip, gripper);
  const covered = coveredBy(placed, gripper, points).filter((yes) => yes).length;
  const share = points.length === 0 ? 0 : covered / points.length;
  return eccentricity(centre, placed) + SEAM_WORTH * share;
}

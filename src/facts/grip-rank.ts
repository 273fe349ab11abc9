import { place, rotate } from '../geometry/pose.js';
import { along, distance, dot, length, subtract, type Vec3 } from '../geometry/vector.js';
import type { Gripper } from '../model/cell.js';
import { padFrame, type GripPlace } from '../model/placement.js';
import type { Shape } from '../model/shape.js';

/** How far the centre of mass is from the pads' line of pull: grips near it come first. */
export function eccentricity(shape: Shape, centre: Vec3, grip: GripPlace): number {
  const frame = padFrame(shape, grip);
  const off = subtract(centre, frame.at);
  const into = rotate(frame.turn, [0, 0, 1]);
  return length(subtract(off, into.map((x) => x * dot(off, into)) as unknown as Vec3));
}

/** A seam of the part as a straight run in the part's own frame. */
export interface OwnSeam {
  readonly from: Vec3;
  readonly to: Vec3;
}

const SEAM_STEP = 10;

/** Which points along the part's seams lie too near to the grip's pads to be tacked while they hold. */
export function coveredPoints(
  shape: Shape,
  seams: readonly OwnSeam[],
  grip: GripPlace,
  gripper: Gripper,
): readonly boolean[] {
  const frame = padFrame(shape, grip);
  const pads = gripper.pads.map(([x, y]) => place(frame, [x, y, 0]));
  const near = gripper.arcDistance + gripper.padDiameter / 2;
  const points = seams.flatMap(({ from, to }) => {
    const count = Math.max(1, Math.round(distance(from, to) / SEAM_STEP));
    return Array.from({ length: count + 1 }, (_, i) => along(from, subtract(to, from), i / count));
  });
  return points.map((point) => pads.some((pad) => distance(pad, point) < near));
}

/** Millimetres off the centre of mass that a grip may be worse for leaving all seams free instead of none. */
const SEAM_WORTH = 150;

/** What grips are ranked by, mm: how far they hold from the centre of mass, and what they cover of the seams. */
export function gripWorth(
  shape: Shape,
  centre: Vec3,
  seams: readonly OwnSeam[],
  grip: GripPlace,
  gripper: Gripper,
): number {
  const points = coveredPoints(shape, seams, grip, gripper);
  const share = points.length === 0 ? 0 : points.filter((covered) => covered).length / points.length;
  return eccentricity(shape, centre, grip) + SEAM_WORTH * share;
}

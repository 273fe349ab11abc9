import type { Pose } from '../geometry/pose.js';
import { compose, IDENTITY, rotate } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { along, cross, distance, dot, length, scale, subtract } from '../geometry/vector.js';
import type { Six } from './arm.js';
import type { JointChain } from './joint-chain.js';

/** A line in space: a point of it (mm) and its unit direction. */
export interface Line {
  readonly point: Vec3;
  readonly way: Vec3;
}

/** The axes of a chain and its flange in the base frame, all joints at zero. */
export function zeroPose(chain: JointChain): { readonly axes: Six<Line>; readonly flange: Pose } {
  let pose = IDENTITY;
  const axes = chain.joints.map(({ frame, axis }): Line => {
    pose = compose(pose, frame);
    return { point: pose.at, way: rotate(pose.turn, axis) };
  });
  return { axes: axes as unknown as Six<Line>, flange: compose(pose, chain.flange) };
}

/** Angle between two lines through one point, degrees, 0 to 90. */
export const lineAngle = (a: Vec3, b: Vec3): number =>
  (Math.atan2(length(cross(a, b)), Math.abs(dot(a, b))) * 180) / Math.PI;

/** Distance in mm of a point from a line. */
export const offLine = ({ point, way }: Line, from: Vec3): number =>
  distance(from, along(point, way, dot(subtract(from, point), way)));

/** Where two lines that are not parallel come nearest: the middle between them, and the gap, mm. */
export function nearestOfLines(a: Line, b: Line): { readonly at: Vec3; readonly gap: number } {
  const normal = cross(a.way, b.way);
  const square = dot(normal, normal);
  const between = subtract(b.point, a.point);
  const onA = along(a.point, a.way, dot(cross(between, b.way), normal) / square);
  const onB = along(b.point, b.way, dot(cross(between, a.way), normal) / square);
  return { at: along(scale(onA, 0.5), onB, 0.5), gap: distance(onA, onB) };
}

import { hypotenuse } from '../base/hypotenuse.js';
import type { Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Arm } from './arm.js';
import { forearmLength } from './arm.js';

/** Whether the arm reaches out ahead of axis 1 or bends back over it. */
export type Shoulder = 'front' | 'back';

/** The wrist centre lies out of the ring that the two links can span. */
export interface DistanceMiss {
  readonly kind: 'distance';
  readonly side: 'too-far' | 'too-close';
  /** Length in mm of the straight line from the wrist centre to the nearest place the links span in their plane. */
  readonly missing: number;
}

/**
 * Room for shape angles (radians) of axes 1 to 3: that of axis 1, those of axes 2 and 3 with the elbow up, and those with
 * the elbow down.
 */
export type ArmAngles = [first: number, up2: number, up3: number, down2: number, down3: number];

/** Miss in mm that counts as being on the very edge of reach; it covers the last bits of a stretched arm. */
const EDGE_SLACK = 1e-7;

/** Coordinate of the wrist centre of a flange pose along an axis, mm, both in the base frame of the arm. */
const centreAlong = ({ c4 }: Arm, { at, turn }: Pose, axis: 0 | 1 | 2): number =>
  at[axis] - turn[3 * axis + 2]! * c4;

/** The wrist centre of a flange pose, mm, both in the base frame of the arm. */
export const wristCentre = (arm: Arm, flange: Pose): Vec3 => [
  centreAlong(arm, flange, 0),
  centreAlong(arm, flange, 1),
  centreAlong(arm, flange, 2),
];

/**
 * Puts the angles of axes 1 to 3 for a flange pose (base frame, mm), the arm facing it or turned away from it, into a row;
 * false where the wrist centre is out of reach. In the plane of the arm the
 * links `c2` and `hypot(a2, c3)` and the line to the wrist centre are a triangle, and its angles come from
 * its area (Heron) by atan2, which stays exact when the arm is stretched or folded. The elbow is `up` when it
 * bends to the side that is upward for an arm reaching ahead.
 */
export function putArmAngles(arm: Arm, flange: Pose, shoulder: Shoulder, angles: ArmAngles): boolean {
  const centreX = centreAlong(arm, flange, 0);
  const centreY = centreAlong(arm, flange, 1);
  const radius = hypotenuse(centreX, centreY);
  const ahead = aheadOf(arm, radius, shoulder);
  const x = ahead - arm.a1;
  const z = centreAlong(arm, flange, 2) - arm.c1;
  const span = hypotenuse(x, z);
  const forearm = forearmLength(arm);
  if (!(missing(arm, radius, span, forearm) <= EDGE_SLACK)) return false;

  // Cosine and sine, both times 2 * span * c2, of the angle between those two sides of the triangle.
  const beside = span * span + arm.c2 * arm.c2 - forearm * forearm;
  const across = fourfoldArea(span, arm.c2, forearm);
  const lean = Math.atan2(x, z);
  const opening = Math.atan2(across, beside);
  const bend = Math.atan2(across, span * span - arm.c2 * arm.c2 - forearm * forearm);
  const rest = Math.atan2(arm.a2, arm.c3);
  const way = shoulder === 'front' ? 1 : -1;
  angles[0] = Math.atan2(centreY, centreX) - Math.atan2(arm.b, ahead);
  angles[1] = lean - way * opening;
  angles[2] = way * bend - rest;
  angles[3] = lean + way * opening;
  angles[4] = -way * bend - rest;
  return true;
}

/** By how much a flange pose (base frame, mm) is out of reach of an arm that faces it or is turned away; undefined where it is not. */
export function distanceMiss(arm: Arm, flange: Pose, shoulder: Shoulder): DistanceMiss | undefined {
  const [x, y, z] = wristCentre(arm, flange);
  const radius = hypotenuse(x, y);
  const span = hypotenuse(aheadOf(arm, radius, shoulder) - arm.a1, z - arm.c1);
  const forearm = forearmLength(arm);
  const lacks = missing(arm, radius, span, forearm);
  if (lacks <= EDGE_SLACK) return undefined;
  const side = span > arm.c2 + forearm ? 'too-far' : 'too-close';
  return { kind: 'distance', side, missing: lacks };
}

/** How far a place this far from axis 1 is ahead in the plane of the arm, mm; negative when the arm is turned away from it. */
const aheadOf = (arm: Arm, radius: number, shoulder: Shoulder): number =>
  (shoulder === 'front' ? 1 : -1) * Math.sqrt(Math.max(0, (radius - arm.b) * (radius + arm.b)));

/** How far a wrist centre is out of reach, mm, by its distances from axis 1 and from axis 2; 0 when it is inside. */
function missing(arm: Arm, radius: number, span: number, forearm: number): number {
  const beyond = span - (arm.c2 + forearm);
  const within = Math.abs(arm.c2 - forearm) - span;
  const sideways = Math.abs(arm.b) - radius;
  return hypotenuse(Math.max(0, beyond, within), Math.max(0, sideways));
}

/** Four times the area of a triangle by its sides (Heron). */
function fourfoldArea(a: number, b: number, c: number): number {
  const product = (a + b + c) * (a + b - c) * (a - b + c) * (b + c - a);
  return Math.sqrt(Math.max(0, product));
}

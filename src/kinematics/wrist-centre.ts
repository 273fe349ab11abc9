import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import { axisZ } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { along } from '../geometry/vector.js';
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

/** Shape angles (radians) of axis 1 and, for both bends of the elbow, of axes 2 and 3. */
export interface ArmAngles {
  readonly first: number;
  readonly up: readonly [second: number, third: number];
  readonly down: readonly [second: number, third: number];
}

/** Miss in mm that counts as being on the very edge of reach; it covers the last bits of a stretched arm. */
const EDGE_SLACK = 1e-7;

/** The wrist centre of a flange pose, mm, both in the base frame of the arm. */
export const wristCentre = (arm: Arm, flange: Pose): Vec3 => along(flange.at, axisZ(flange.turn), -arm.c4);

/**
 * Axes 1 to 3 for a wrist centre (base frame, mm), facing it or turned away from it. In the plane of the arm the
 * links `c2` and `hypot(a2, c3)` and the line to the wrist centre are a triangle, and its angles come from
 * its area (Heron) by atan2, which stays exact when the arm is stretched or folded. The elbow is `up` when it
 * bends to the side that is upward for an arm reaching ahead.
 */
export function armAngles(arm: Arm, centre: Vec3, shoulder: Shoulder): Result<ArmAngles, DistanceMiss> {
  const radius = Math.hypot(centre[0], centre[1]);
  const facing = shoulder === 'front' ? 1 : -1;
  const ahead = facing * Math.sqrt(Math.max(0, (radius - arm.b) * (radius + arm.b)));
  const x = ahead - arm.a1;
  const z = centre[2] - arm.c1;
  const span = Math.hypot(x, z);
  const forearm = forearmLength(arm);
  const beyond = span - (arm.c2 + forearm);
  const within = Math.abs(arm.c2 - forearm) - span;
  const sideways = Math.abs(arm.b) - radius;
  // How far the wrist centre is out of reach; 0 when it is inside.
  const missing = Math.hypot(Math.max(0, beyond, within), Math.max(0, sideways));
  if (missing > EDGE_SLACK)
    return fail({ kind: 'distance', side: beyond > 0 ? 'too-far' : 'too-close', missing });

  const [beside, across] = triangle(span, arm.c2, forearm);
  const lean = Math.atan2(x, z);
  const opening = Math.atan2(across, beside);
  const bend = Math.atan2(across, span * span - arm.c2 * arm.c2 - forearm * forearm);
  const rest = Math.atan2(arm.a2, arm.c3);
  const bent = (way: number) => [lean - way * opening, way * bend - rest] as const;
  const first = Math.atan2(centre[1], centre[0]) - Math.atan2(arm.b, ahead);
  return ok({ first, up: bent(facing), down: bent(-facing) });
}

/** Cosine and sine, both times `2 * span * upper`, of the angle between those two sides of a triangle. */
function triangle(span: number, upper: number, forearm: number): readonly [number, number] {
  const product =
    (span + upper + forearm) * (span + upper - forearm) * (span - upper + forearm) * (upper + forearm - span);
  return [span * span + upper * upper - forearm * forearm, Math.sqrt(Math.max(0, product))];
}

import type { Pose } from '../geometry/pose.js';
import { compose, IDENTITY, turnAbout } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { ORIGIN } from '../geometry/vector.js';
import type { Joints, Six } from './arm.js';

/** Six turning joints one behind the other, in any frames: what an arm is before its shape is known. */
export interface JointChain {
  readonly joints: Six<ChainJoint>;
  /** The flange in the frame that the last joint turns, mm; its z axis points out of the flange. */
  readonly flange: Pose;
}

export interface ChainJoint {
  /** The joint's frame in the frame that the joint before it turns (the first: in the base frame), mm. */
  readonly frame: Pose;
  /** Unit, in the joint's frame: a positive joint value turns about it by the right-hand rule. */
  readonly axis: Vec3;
}

/** Pose of the flange in the base frame (mm) with the joints at these values (radians). */
export function chainFlange({ joints, flange }: JointChain, values: Joints): Pose {
  let pose = IDENTITY;
  joints.forEach(({ frame, axis }, i) => {
    pose = compose(compose(pose, frame), { at: ORIGIN, turn: turnAbout(axis, values[i]!) });
  });
  return compose(pose, flange);
}

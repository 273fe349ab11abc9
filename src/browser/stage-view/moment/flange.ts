import { compose, type Pose } from '../../../geometry/pose.js';
import type { Joints } from '../../../kinematics/arm.js';
import { forward } from '../../../kinematics/forward.js';
import type { PageRobot } from '../../../report/page/page-data.js';
import { poseOf } from './poses.js';

/** Flange of a robot in the cell. */
export const flangeOf = ({ base, arm }: PageRobot, joints: Joints): Pose =>
  compose(poseOf(base), forward(arm, joints));

import { rotate, fromRollPitchYaw } from '../../../geometry/pose.js';
import { faceFrame } from '../../../model/part-geometry.js';
import type { PlanPose } from '../../../model/plan-pose.js';
import type { PlanGrip } from '../../../model/plan.js';
import type { Shape } from '../../../model/shape.js';
import type { Vec3 } from '../../../geometry/vector.js';
import { sideText } from '../../direction-text.js';
import { amount } from '../../numbers.js';
import { plain } from '../../plain.js';

const list = (numbers: readonly number[], digits: number): string =>
  `(${numbers.map((number) => amount(number, digits)).join(', ')})`;

/** A pose in the cell: mm to a tenth, degrees to a hundredth. */
export const poseText = ({ at, turn }: PlanPose): string =>
  `at ${list(at, 1)} mm, turned ${list(turn, 2)} degrees`;

/** Where a direction of a part leads while the part is at a pose, in words. */
function leads(direction: Vec3, { turn }: PlanPose): string {
  return sideText(rotate(fromRollPitchYaw(...turn), direction));
}

const AXES = ['x', 'y', 'z'] as const;

/** An axis of a face as the part's own frame has it; `first axis of the face` where it is a slanted one. */
function axisName(axis: Vec3, which: string): string {
  const i = axis.findIndex((x) => Math.abs(x) > 1 - 1e-9);
  return i < 0 ? `the ${which} axis of the face` : AXES[i]!;
}

/** Where a gripper takes a part: gripper, pads, face and where it looks while the part lies there, place on it, turn. */
export function gripText(shape: Shape, grip: PlanGrip, lying: PlanPose): string {
  const { normal, u, v } = faceFrame(shape, grip.face);
  const pads = grip.group === undefined ? '' : `, pads ${plain(grip.group)}`;
  const [along, across] = grip.position;
  const middle = Math.abs(along) < 0.05 && Math.abs(across) < 0.05;
  const place = middle
    ? 'in its middle'
    : `from its middle ${amount(along, 1)} mm along ${axisName(u, 'first')} and ${amount(across, 1)} mm along ${axisName(v, 'second')}`;
  const faces = `face ${plain(grip.face)} (faces ${leads(normal, lying)} when taken)`;
  return `${plain(grip.gripper)}${pads} on ${faces}, ${place}, turned ${amount(grip.turn, 1)} degrees`;
}

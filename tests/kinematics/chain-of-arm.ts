import { compose, NO_TURN, transpose, turnAbout, type Pose, type Rotation } from '../../src/geometry/pose.js';
import { rotate } from '../../src/geometry/pose.js';
import { scale, type Vec3 } from '../../src/geometry/vector.js';
import { sixOf, type Arm } from '../../src/kinematics/arm.js';
import type { JointChain } from '../../src/kinematics/joint-chain.js';

const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];

/**
 * The chain of an uncoupled arm by its definition: Rz(t1) (a1, b, c1) Ry(t2) (0, 0, c2) Ry(t3) (a2, 0, c3) Rz(t4) Ry(t5)
 * Rz(t6) (0, 0, c4). Each joint's frame is turned by `turns` and slid along its axis by `slides` mm, which changes nothing.
 */
export function chainOfArm(arm: Arm, turns: readonly Rotation[], slides: readonly number[]): JointChain {
  const axes = [Z, Y, Y, Z, Y, Z];
  const before: Vec3[] = [
    [0, 0, 0],
    [arm.a1, arm.b, arm.c1],
    [0, 0, arm.c2],
    [arm.a2, 0, arm.c3],
    [0, 0, 0],
    [0, 0, 0],
  ];
  const undo = (i: number): Pose => ({ at: scale(axes[i]!, -slides[i]!), turn: NO_TURN });
  const unturned = (i: number): Pose => ({ at: [0, 0, 0], turn: transpose(turns[i]!) });
  /** From the frame that joint i turns to the frame of its definition. */
  const after = (i: number): Pose => compose(unturned(i), undo(i));
  const joints = sixOf((i) => {
    const own: Pose = { at: before[i]!, turn: turnAbout(axes[i]!, -arm.offsets[i]!) };
    const slid = compose(own, { at: scale(axes[i]!, slides[i]!), turn: turns[i]! });
    return {
      frame: i === 0 ? slid : compose(after(i - 1), slid),
      axis: rotate(transpose(turns[i]!), scale(axes[i]!, arm.signs[i]!)),
    };
  });
  return {
    joints,
    flange: compose(after(5), { at: [0, 0, arm.c4], turn: NO_TURN }),
  };
}

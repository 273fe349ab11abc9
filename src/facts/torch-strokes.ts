import type { Pose } from '../geometry/pose.js';
import type { Joints } from '../kinematics/arm.js';
import { followStraight } from '../kinematics/straight-move.js';
import { STROKE_STEP } from '../kinematics/strokes.js';
import type { Welder } from '../model/cell.js';
import { tipPoses, TorchFlange, type TorchCandidate } from './torch-ranking.js';

/** Joints of a welding arm onto a seam, along a tack and away from it, in one branch. */
export interface TorchStrokes {
  readonly clear: Joints;
  readonly joints: Joints;
  readonly jointsEnd: Joints;
  readonly leave: Joints;
  /** From `clear` to `leave`, all in turn. */
  readonly strokes: readonly Joints[];
}

/** The strokes of a candidate as the arm can follow them; undefined when it cannot. */
export function followTorch(
  welder: Welder,
  { way, roll, joints }: TorchCandidate,
  stroke: number,
): TorchStrokes | undefined {
  const tips = tipPoses(way, roll, stroke);
  const flange = new TorchFlange(welder);
  const follow = (from: Pose, to: Pose, at: Joints): readonly Joints[] | undefined => {
    const found = followStraight(welder.arm, flange.of(from), flange.of(to), at, STROKE_STEP);
    return found.ok ? found.value : undefined;
  };
  const out = follow(tips.start, tips.clear, joints);
  const along = out && follow(tips.start, tips.end, joints);
  const away = along && follow(tips.end, tips.leave, along.at(-1)!);
  if (!away) return undefined;
  return {
    ...{ clear: out.at(-1)!, joints, jointsEnd: along.at(-1)!, leave: away.at(-1)! },
    strokes: [...out.toReversed(), ...along.slice(1), ...away.slice(1)],
  };
}

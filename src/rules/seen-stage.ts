import { compose, place, rotate, toRollPitchYaw, type Pose } from '../geometry/pose.js';
import type { Cell } from '../model/cell.js';
import type { GeometricPlan, PlanPose, PlanPowerLoss, PlanTack, Stage } from '../model/plan.js';
import { seenFromTable } from '../model/table-turn.js';
import { poseOf } from './plan-frames.js';

/** Index angle of the work table in a stage, degrees; 0 where it stands still, whatever the plan says. */
export const angleOf = ({ table }: Cell, stage: Stage): number =>
  table.turntable === undefined ? 0 : (stage.turn ?? 0);

/** The index angle to which the table turns before the stage at a place of the plan's list; undefined where it does not. */
export function turnBefore({ stages }: GeometricPlan, cell: Cell, index: number): number | undefined {
  const [last, stage] = [stages[index - 1], stages[index]];
  if (last === undefined || stage === undefined) return undefined;
  const angle = angleOf(cell, stage);
  return angle === angleOf(cell, last) ? undefined : angle;
}

/** A pose of the plan as seen from another frame. */
function moved(stated: PlanPose, frame: Pose): PlanPose {
  const { at, turn } = compose(frame, poseOf(stated));
  return { at: [...at], turn: [...toRollPitchYaw(turn)] };
}

const movedTack = (tack: PlanTack, frame: Pose): PlanTack => ({
  ...tack,
  torch: { ...tack.torch, start: moved(tack.torch.start, frame), end: moved(tack.torch.end, frame) },
});

function movedLoss(loss: PlanPowerLoss, frame: Pose): PlanPowerLoss {
  if (loss.zone === null) return loss;
  const [x, y] = place(frame, [...loss.zone.at, 0]);
  return { ...loss, zone: { ...loss.zone, at: [x, y] } };
}

/**
 * A stage with all that it states of the weldment's surroundings in the cell as seen from the table at index angle 0,
 * where the scene has the weldment: final pose, approach, wire tips and exclusion zones. Poses at stations stay in the
 * cell, and joints are those of the arms. The very stage where the table is at 0.
 */
export function seenStage(cell: Cell, stage: Stage): Stage {
  const angle = angleOf(cell, stage);
  if (angle === 0) return stage;
  const frame = seenFromTable(cell, angle);
  return {
    ...stage,
    handling: stage.handling.map((one) =>
      one.put.to === 'place' ? { ...one, put: { ...one.put, part: moved(one.put.part, frame) } } : one,
    ),
    approach: stage.approach && {
      ...stage.approach,
      direction: [...rotate(frame.turn, stage.approach.direction)],
    },
    powerLoss: stage.powerLoss.map((loss) => movedLoss(loss, frame)),
    tacks: stage.tacks.map((tack) => movedTack(tack, frame)),
    rework: stage.rework.map((one) => (one.tack ? { ...one, tack: movedTack(one.tack, frame) } : one)),
  };
}

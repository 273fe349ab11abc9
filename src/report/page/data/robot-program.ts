import { robotsOf, type Handler, type Welder } from '../../../model/cell.js';
import type { Step } from '../../../model/plan.js';
import { takenPart } from '../../../rules/arm-replay.js';
import type { TakenPart } from '../../../rules/arm-load.js';
import { carryings, type Carrying } from '../../../rules/arm-stays.js';
import type { GeometricContext } from '../page-context.js';

/** A time in which a robot has a part in its gripper. */
export interface Carried extends Carrying {
  /** Index of the part. */
  readonly index: number;
  readonly taken: TakenPart;
}

/** A robot of the cell with its program, by its place among the robots. */
export interface RobotProgram {
  readonly robot: number;
  readonly who: Handler | Welder;
  readonly steps: readonly Step[];
  /** In order of time; those of parts or grips that are not known are left out. */
  readonly carried: readonly Carried[];
}

/** All robots of the cell; one without a program has no steps. */
export const robotPrograms = (context: GeometricContext): readonly RobotProgram[] =>
  robotsOf(context.cell).map((who, robot) => {
    const steps = context.plan.programs.find((program) => program.robot === who.id)?.steps ?? [];
    const carried = carryings(steps).flatMap((one) => {
      const index = context.scene.index.get(one.part);
      const taken = takenPart(context, steps, one);
      return index === undefined || taken === undefined ? [] : [{ ...one, index, taken }];
    });
    return { robot, who, steps, carried };
  });

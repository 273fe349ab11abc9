import type { Handler, Welder } from '../model/cell.js';
import type { Step } from '../model/plan.js';
import { toDegrees, type Joints } from '../kinematics/arm.js';
import { replay, type Replay } from './arm-replay.js';
import type { RuleContext } from './rule.js';
import { endOfStep, tacksByName } from './step-times.js';

/** A rework in a program, and where the arm is when it begins. */
export interface ProgramRework {
  /** Index of the step that asks for it. */
  readonly at: number;
  readonly tack: string;
  readonly steps: readonly Step[];
  readonly from: Joints;
}

/** Every step of a program that has something to do when a tack is bad. */
export function reworksOf(
  { plan }: Pick<RuleContext, 'plan'>,
  { home }: Handler | Welder,
  steps: readonly Step[],
): readonly ProgramRework[] {
  const tacks = tacksByName(plan);
  let from = home;
  return steps.flatMap((step, at) => {
    from = endOfStep(step, tacks) ?? from;
    return step.do === 'accept' && step.rework.length > 0
      ? [{ at, tack: step.tack, steps: step.rework, from }]
      : [];
  });
}

/** A joint move of which only the end is asked for. */
const NOWHERE: Omit<Extract<Step, { do: 'move' }>, 'stage' | 'to'> = {
  ...{
    n: 1,
    start: 0,
    end: 0,
    do: 'move',
    path: 'joint',
    place: '',
    speed: 1,
    tool: 'flange',
    frame: 'cell',
  },
  pose: { at: [0, 0, 0], turn: [0, 0, 0] },
  branch: { shoulder: 'front', elbow: 'up', wrist: 'plain' },
};

/** The steps of a rework as a program of its own, after one joint move to where it begins. */
export function asProgram({ steps, from }: ProgramRework): readonly [Step, ...Step[]] {
  const to = from.map(toDegrees) as Extract<Step, { do: 'move' }>['to'];
  const { stage } = steps[0]!;
  return [{ ...NOWHERE, stage, to }, ...steps];
}

/** Replays the program of a robot with all its reworks: each is somewhere in the step that asks for it. */
export function withReworks(
  context: RuleContext,
  robot: number,
  who: Handler | Welder,
  steps: readonly Step[],
): Replay {
  const nominal = replay(context, robot, who, steps);
  const branches = reworksOf(context, who, steps).flatMap((rework) =>
    replay(context, robot, who, asProgram(rework))
      .steps.filter(({ first }) => first > 0)
      .map((step) => ({ ...step, first: rework.at, last: rework.at })),
  );
  return { ...nominal, steps: [...nominal.steps, ...branches] };
}

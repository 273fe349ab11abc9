import type { Step } from '../../../model/plan.js';
import type { StageView } from '../../../rules/stage-views.js';
import type { Carried, RobotProgram } from './robot-program.js';

/** When what is done for a stage is done, seconds. */
export interface StageTimes {
  readonly start: number;
  readonly placed: number;
  readonly end: number;
  /** The part that joins, in the gripper that puts it in place; undefined where a person sets it. */
  readonly placing: (Carried & { readonly program: RobotProgram }) | undefined;
}

/** A time of carrying with the program that it is in. */
interface InProgram {
  readonly program: RobotProgram;
  readonly carried: Carried;
}

export const endOf = ({ steps }: RobotProgram, index: number): number =>
  steps[Math.min(index, steps.length - 1)]!.end;

export const startOf = ({ steps }: RobotProgram, index: number): number =>
  steps[Math.min(index, steps.length - 1)]!.start;

/** All times in which a part is carried or held, in order of time. */
export const carriedOf = (programs: readonly RobotProgram[], part: number): readonly InProgram[] =>
  programs
    .flatMap((program) =>
      program.carried.filter(({ index }) => index === part).map((carried) => ({ program, carried })),
    )
    .sort((a, b) => endOf(a.program, a.carried.grip) - endOf(b.program, b.carried.grip));

/** Times of a stage, as the steps of the programs state them; undefined where none of them brings its part. */
export function stageTimes(
  programs: readonly RobotProgram[],
  { stage, part }: Pick<StageView, 'stage' | 'part'>,
): StageTimes | undefined {
  const own = programs.flatMap(({ steps }) => steps.filter((step) => step.stage === stage.number));
  const end = Math.max(...own.map((step) => step.end));
  const byHand = own.find((step): step is Extract<Step, { do: 'manual' }> => step.do === 'manual');
  if (byHand !== undefined) return { start: byHand.start, placed: byHand.end, end, placing: undefined };
  const all = carriedOf(programs, part);
  const last = all.find(({ carried }) => carried.brought);
  if (last === undefined) return undefined;
  const { program, carried } = last;
  return {
    start: all[0]!.program.steps[all[0]!.carried.grip]!.start,
    placed: endOf(program, carried.inPlace),
    end: Math.max(end, endOf(program, carried.inPlace)),
    placing: { ...carried, program },
  };
}

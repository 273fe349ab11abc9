import type { Pose } from '../../../geometry/pose.js';
import type { Handling } from '../../../model/plan.js';
import { carriedPose } from '../../../rules/arm-load.js';
import { poseOf } from '../../../rules/plan-frames.js';
import type { StageView } from '../../../rules/stage-views.js';
import type { PagePlace } from '../page-data.js';
import type { RobotProgram } from './robot-program.js';
import { pagePose, seconds } from './rounding.js';
import { carriedOf, endOf } from './stage-times.js';

const placeAt = (from: number, where: PagePlace['where'], pose: Pose, robot?: number): PagePlace => ({
  ...{ from: seconds(from), where },
  ...(robot !== undefined && { robot }),
  pose: pagePose(pose),
});

/** When the infeed is free again after a part was taken there: at the end of the move that lifts it. */
function lifted({ steps }: RobotProgram, grip: number): number {
  const move = steps.find((step, i) => i > grip && step.do === 'move');
  return (move ?? steps[grip]!).end;
}

/**
 * When each part comes to lie at the infeed, by its index: the first at 0, any other once the one before has been
 * lifted from there, since a cell has one place at its infeed.
 */
export function arrivals(programs: readonly RobotProgram[]): ReadonlyMap<number, number> {
  const seen = new Set<number>();
  const takes = programs
    .flatMap((program) => program.carried.map(({ index, grip }) => ({ program, index, grip })))
    .sort((a, b) => endOf(a.program, a.grip) - endOf(b.program, b.grip))
    .filter(({ index }) => !seen.has(index) && seen.add(index));
  return new Map(
    takes.map(({ index }, i) => {
      const before = takes[i - 1];
      return [index, before === undefined ? 0 : lifted(before.program, before.grip)];
    }),
  );
}

/** Where a part lies after it was set down. */
const setDown = ({ put }: Handling, at: number): readonly PagePlace[] =>
  put.to === 'place' ? [] : [placeAt(at, put.to, poseOf(put.part))];

/** Where a part that robots bring is from the infeed on. */
function broughtPlaces(
  programs: readonly RobotProgram[],
  { stage, part, placed }: StageView,
  arrived: number,
): readonly PagePlace[] {
  const first = stage.handling[0];
  const all = carriedOf(programs, part);
  const last = all.findIndex(({ carried }) => carried.brought);
  if (first === undefined || last < 0) return [];
  return [
    placeAt(arrived, 'infeed', poseOf(first.take.part)),
    ...all.slice(0, last + 1).flatMap(({ program, carried }, k) => {
      const held = placeAt(
        endOf(program, carried.grip),
        'carried',
        carriedPose(carried.taken),
        program.robot,
      );
      const handling = stage.handling[k];
      if (k === last) return [held, placeAt(endOf(program, carried.inPlace), 'in-place', placed.pose)];
      return [held, ...(handling === undefined ? [] : setDown(handling, endOf(program, carried.release)))];
    }),
  ];
}

/** Where the part of a stage is, in order of time. */
export function placesOf(
  programs: readonly RobotProgram[],
  arrived: ReadonlyMap<number, number>,
  view: StageView,
): readonly PagePlace[] {
  const { stage, part, placed } = view;
  if (stage.manual === undefined) return broughtPlaces(programs, view, arrived.get(part) ?? 0);
  const work = programs
    .flatMap(({ steps }) => steps)
    .find((step) => step.do === 'manual' && step.stage === stage.number);
  return work === undefined ? [] : [placeAt(work.end, 'in-place', placed.pose)];
}

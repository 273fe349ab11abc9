import { slug } from '../base/identifier.js';
import { robotsOf, type Cell, type Welder } from '../model/cell.js';
import type { ProgramPoint, RawPrograms } from './programs.js';
import { StepWriter, type StepDraft } from './steps.js';

/** What a welding robot does at home before a group of tacks: nothing but where it must. */
function stepsBefore(
  { times }: Cell,
  robot: Welder,
  stages: { readonly own: number; readonly last: number | undefined },
  arcs: { readonly laid: number; readonly coming: number },
): readonly StepDraft[] {
  const { cleaning } = robot;
  // The earth path is asked once; a nozzle that is cleaned belongs to the stage that made it dirty.
  if (stages.last === undefined) return new StepWriter(robot, stages.own).checkEarth(times.earthCheck).steps;
  if (cleaning === undefined || arcs.laid + arcs.coming <= cleaning.every) return [];
  return new StepWriter(robot, stages.last).cleanNozzle(cleaning).steps;
}

/** The steps of a program with those of upkeep put in, and where each step has gone. */
function keptUp(
  cell: Cell,
  robot: Welder,
  steps: readonly StepDraft[],
): { readonly steps: readonly StepDraft[]; readonly places: readonly number[] } {
  const found: StepDraft[] = [];
  const places: number[] = [];
  let laid = 0;
  let last: number | undefined;
  steps.forEach((draft, i) => {
    if (draft.step.do === 'enter') {
      const group = steps.slice(
        i,
        steps.findIndex(({ step }, k) => k > i && step.do === 'leave'),
      );
      const coming = group.filter(({ step }) => step.do === 'tack').length;
      const before = stepsBefore(cell, robot, { own: draft.step.stage, last }, { laid, coming });
      if (before.some(({ step }) => step.do === 'clean-nozzle')) laid = 0;
      found.push(...before);
      laid += coming;
      last = draft.step.stage;
    }
    places.push(found.length);
    found.push(draft);
  });
  return { steps: found, places };
}

/**
 * Adds what keeps the welding robots fit: the earth path is asked before the first arc, and the nozzle is cleaned after
 * a group of tacks when the next one would exceed the arcs from one cleaning to the next. Both before the robot waits
 * for that next group.
 */
export function withUpkeep(cell: Cell, raw: RawPrograms): RawPrograms {
  const { programs, precedences } = raw;
  const robots = robotsOf(cell);
  const kept = programs.map((steps, i) => {
    const robot = robots[i]!;
    return robot.duty === 'weld' ? keptUp(cell, robot, steps) : { steps, places: steps.map((_, k) => k) };
  });
  const moved = ({ robot, index }: ProgramPoint): ProgramPoint => ({
    robot,
    index: kept[robot]!.places[index]!,
  });
  // Handling robots, whose stays at the stations are listed, keep their steps as they are.
  return {
    ...raw,
    programs: kept.map(({ steps }) => steps),
    precedences: precedences.map((one) => ({ ...one, from: moved(one.from), to: moved(one.to) })),
  };
}

/** Adds the hand-over of the finished tack-up as the last step of the first robot, after every other robot's last. */
export function withHandOver(cell: Cell, raw: RawPrograms): RawPrograms {
  const { programs, precedences } = raw;
  const robots = robotsOf(cell);
  const { steps } = new StepWriter(robots[0]!, 0).handOver(cell.times.handOver);
  const to = { robot: 0, index: programs[0]!.length };
  const others = programs.flatMap((program, robot) =>
    robot === 0 || program.length === 0
      ? []
      : [
          {
            from: { robot, index: program.length - 1 },
            to,
            name: `${slug(robots[robot]!.id, 'robot')}-done`,
            meaning: `${robots[robot]!.id} done, at home and out of the work zone`,
            guards: 'the finished tack-up would be handed over while a robot works on it',
          },
        ],
  );
  return {
    ...raw,
    programs: programs.map((program, i) => (i === 0 ? [...program, ...steps] : program)),
    precedences: [...precedences, ...others],
  };
}

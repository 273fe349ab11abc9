import { angleOf } from '../../../rules/seen-stage.js';
import type { StageView } from '../../../rules/stage-views.js';
import type { GeometricContext } from '../page-context.js';
import type { PageStage } from '../page-data.js';
import type { RobotProgram } from './robot-program.js';
import { mm, pageAngle, pageDirection, seconds } from './rounding.js';
import { carriedOf, endOf, startOf, type StageTimes } from './stage-times.js';
import type { TackMaker } from './tacks.js';

type Span = readonly [from: number, to: number];

/** While the newcomer is held in its place for its securing tacks, until its let-go begins; no longer than its stage where it is held on. */
function ownHold({ stage }: StageView, { placing, placed, end }: StageTimes): readonly Span[] {
  if (stage.held === null || placing === undefined) return [];
  return [[placed, Math.min(startOf(placing.program, placing.release), end)]];
}

/** While an earlier part is held for this stage. */
function otherHold(
  programs: readonly RobotProgram[],
  other: number | undefined,
  { start, end }: StageTimes,
): readonly Span[] {
  if (other === undefined) return [];
  return carriedOf(programs, other).flatMap(({ program, carried }): Span[] => {
    const from = Math.max(start, endOf(program, Math.max(carried.inPlace, carried.grip)));
    const to = Math.min(end, startOf(program, carried.release));
    return Number.isFinite(carried.inPlace) && from < to ? [[from, to]] : [];
  });
}

const spanOf = (spans: readonly Span[]): Span | null =>
  spans.length === 0
    ? null
    : [seconds(Math.min(...spans.map(([from]) => from))), seconds(Math.max(...spans.map(([, to]) => to)))];

/** A stage whose part robots or a person bring in the programs; its times as their steps state them. */
export function pageStage(
  { plan, cell, scene }: GeometricContext,
  programs: readonly RobotProgram[],
  tacks: TackMaker,
  view: StageView,
  times: StageTimes,
): PageStage {
  const { stage, part } = view;
  const stated = plan.stages[view.index]!.approach;
  const robot = programs.find(({ who }) => who.id === stage.held)?.robot;
  const other = stage.alsoHeld && scene.index.get(stage.alsoHeld.part);
  return {
    number: stage.number,
    part,
    start: seconds(times.start),
    end: seconds(times.end),
    placed: seconds(times.placed),
    approach: stated && {
      direction: pageDirection(stated.direction),
      distance: mm(stated.distance),
    },
    heldBy: robot ?? null,
    alsoHeld: other ?? null,
    hold: spanOf([...ownHold(view, times), ...otherHold(programs, other, times)]),
    turn: pageAngle((angleOf(cell, stage) * Math.PI) / 180),
    tacks: tacks.of(view),
  };
}

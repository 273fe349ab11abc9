import { rounded } from '../../../base/order.js';
import { rotate } from '../../../geometry/pose.js';
import { scale, type Vec3 } from '../../../geometry/vector.js';
import type { Step } from '../../../model/plan.js';
import type { MovedPart } from '../../../model/plan-distortion.js';
import type { StageView } from '../../../rules/stage-views.js';
import type { GeometricContext } from '../page-context.js';
import type { PageMoved, Point3 } from '../page-data.js';
import type { RobotProgram } from './robot-program.js';
import { pagePoint, seconds } from './rounding.js';
import type { StageTimes } from './stage-times.js';

type MovedPartOnPage = PageMoved['parts'][number];

const fixed = (v: Vec3, digits: number): Point3 => [
  rounded(v[0], digits),
  rounded(v[1], digits),
  rounded(v[2], digits),
];

/** Movement and turn in the axes of the cell; of a part that is not in the scene nothing. */
function movedOnPage(
  { scene, cell }: GeometricContext,
  { part: id, move, turn }: MovedPart,
): readonly MovedPartOnPage[] {
  const part = scene.index.get(id);
  if (part === undefined) return [];
  const inCell = (v: Vec3): Vec3 => rotate(cell.weldmentPose.turn, v);
  return [
    {
      part,
      move: fixed(inCell(move), 3),
      turn: fixed(scale(inCell(turn), Math.PI / 180), 6),
      about: pagePoint(scene.parts[part]!.solid.centre),
    },
  ];
}

/** When the steps that the prediction speaks of end, by its words: a tack, and in a stage a let-go. */
function endsByWords(programs: readonly RobotProgram[], stage: number): ReadonlyMap<string, number> {
  const told = ({ do: kind, ...step }: Step): string | undefined =>
    kind === 'tack' && 'tack' in step
      ? `tack ${step.tack}`
      : kind === 'let-go' && 'part' in step && step.stage === stage
        ? `let-go ${step.part}`
        : undefined;
  return new Map(
    programs.flatMap(({ steps }) =>
      steps.flatMap((step) => {
        const words = told(step);
        return words === undefined ? [] : [[words, step.end] as const];
      }),
    ),
  );
}

/**
 * What the prediction says of a stage, at the ends of the steps that cause it; a step of which the programs say nothing,
 * as a tack that a person lays, counts with the one before.
 */
export function stageMoved(
  context: GeometricContext,
  programs: readonly RobotProgram[],
  { stage, index }: StageView,
  { placed }: StageTimes,
): readonly PageMoved[] {
  const ends = endsByWords(programs, stage.number);
  let time = placed;
  return context.plan.stages[index]!.distortion.steps.flatMap(({ after, moved }) => {
    time = ends.get(after) ?? time;
    const parts = moved.flatMap((one) => movedOnPage(context, one));
    return parts.length === 0 ? [] : [{ time: seconds(time), parts }];
  });
}

import { boundsApart, boundsAround } from '../geometry/bounds.js';
import { rotate, translate, transpose } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import { scale, type Vec3 } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { shapeSolid } from '../model/part-geometry.js';
import type { Part } from '../model/weldment.js';
import { direction } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'approach-long-enough';

/** Distances in a plan are rounded, mm. */
const ROUNDING = 0.01;

function clearanceFindings({ scene }: RuleContext, view: StageView): Finding[] {
  const { approach, part } = view.stage;
  const way = approach && direction(approach.direction);
  if (!way || view.before.length === 0) return [];
  // In the weldment's frame, so that the boxes do not depend on how the weldment is turned in the cell.
  const own = rotate(transpose(scene.cell.weldmentPose.turn), way);
  const boxOf = ({ shape, pose }: Part, by: Vec3 = [0, 0, 0]) =>
    placeSolid(shapeSolid(shape), translate(pose, by)).bounds;
  const box = boxOf(view.placed.part, scale(own, -approach.distance));
  const standing = boundsAround(view.before.map((i) => boxOf(scene.parts[i]!.part)));
  if (boundsApart(box, standing, ROUNDING)) return [];
  const message = `${part} starts its stroke of ${shown(approach.distance)} mm still beside the parts in place`;
  return [breach(ID, `${view.where}.approach.distance`, message, { value: approach.distance })];
}

function judge(context: RuleContext): Finding[] {
  const least = context.settings.motion['approach-distance'];
  return stageViews(context).flatMap((view) => {
    if (view.stage.approach === null) return [];
    const { distance } = view.stage.approach;
    if (distance >= least - ROUNDING) return clearanceFindings(context, view);
    const message = `the stroke into place is ${shown(distance)} mm; at least ${shown(least)} is asked for`;
    return [breach(ID, `${view.where}.approach.distance`, message, { value: distance, limit: least })];
  });
}

/** The straight stroke into place begins clear of all that stands, so that the move to its start is free too. */
export const approachLongEnough: Rule = {
  id: ID,
  forbids: 'a stroke into place shorter than the settings ask, or one that begins beside the parts in place',
  why: 'the way to the start of the stroke is no straight line and must have nothing near it',
  judge,
};

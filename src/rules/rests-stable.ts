import { inverse, place } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import { dot, subtract } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { faceFrame, shapeSolid } from '../model/part-geometry.js';
import { lyingOverOpening } from '../model/stations.js';
import type { PlanPose } from '../model/plan.js';
import type { OuterFace } from '../model/scalars.js';
import { poseOf } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'rests-stable';

/** How far inside the resting face the centre of mass must be, mm. */
export const REST_MARGIN = 5;
const ROUNDING = 0.05;

/** How far the centre of mass is inside the face it lies on, mm; all shapes rest on the outline of the face. */
function marginOn({ placed }: StageView, rest: OuterFace): number {
  const { shape } = placed.part;
  const face = faceFrame(shape, rest);
  const offset = subtract(shapeSolid(shape).centre, face.centre);
  return Math.min(face.halfU - Math.abs(dot(offset, face.u)), face.halfV - Math.abs(dot(offset, face.v)));
}

function restFindings(view: StageView, rest: OuterFace, where: string): Finding[] {
  const margin = marginOn(view, rest);
  if (margin >= REST_MARGIN - 1e-9) return [];
  const message =
    `${view.stage.part} on its face ${rest} has its centre of mass ${shown(margin)} mm inside the edge; ` +
    `${REST_MARGIN} is needed`;
  return [breach(ID, `${where}.rest`, message, { value: margin, limit: REST_MARGIN })];
}

/** The part's outline must not hang over the edge of the regrip table. */
function tableFindings({ cell }: RuleContext, view: StageView, part: PlanPose, where: string): Finding[] {
  const solid = placeSolid(shapeSolid(view.placed.part.shape), poseOf(part));
  const seen = inverse(cell.regrip.pose);
  const corners = solid.pieces.flatMap(({ vertices }) => vertices.map((vertex) => place(seen, vertex)));
  const over = Math.max(
    ...corners.map(([x, y]) =>
      Math.max(Math.abs(x) - cell.regrip.size[0] / 2, Math.abs(y) - cell.regrip.size[1] / 2),
    ),
  );
  if (over <= ROUNDING) return [];
  const message = `${view.stage.part} hangs ${shown(over)} mm over the edge of the regrip table`;
  return [breach(ID, `${where}.part`, message, { value: over, limit: 0 })];
}

/** On the two-sided stand a part bridges the opening, with enough on both rims, and hangs over no outer edge. */
function standFindings({ cell }: RuleContext, view: StageView, part: PlanPose, where: string): Finding[] {
  const stand = cell.twoSided;
  if (stand === undefined) return [];
  const { rim, over } = lyingOverOpening(stand, placeSolid(shapeSolid(view.placed.part.shape), poseOf(part)));
  const { part: id } = view.stage;
  const short =
    `${id} overlaps a rim of the two-sided stand by ${shown(rim)} mm; ` + `${shown(stand.overlap)} is needed`;
  const hangs = `${id} hangs ${shown(over)} mm over the edge of the two-sided stand`;
  return [
    ...(rim >= stand.overlap - ROUNDING
      ? []
      : [breach(ID, `${where}.part`, short, { value: rim, limit: stand.overlap })]),
    ...(over <= ROUNDING ? [] : [breach(ID, `${where}.part`, hangs, { value: over, limit: 0 })]),
  ];
}

function judge(context: RuleContext): Finding[] {
  return stageViews(context).flatMap((view) => {
    const wished = view.placed.part.rest;
    const first = view.stage.handling[0]!.take.rest;
    const findings =
      wished === undefined || wished === first
        ? []
        : [
            breach(
              ID,
              `${view.where}.handling[0].take.rest`,
              `${view.stage.part} lies on ${first} at the infeed; the weldment file says ${wished}`,
            ),
          ];
    view.stage.handling.forEach(({ take, put }, i) => {
      const where = `${view.where}.handling[${i}]`;
      findings.push(...restFindings(view, take.rest, `${where}.take`));
      if (put.to === 'place' || put.rest === null) return;
      findings.push(...restFindings(view, put.rest, `${where}.put`));
      const lying = put.to === 'regrip' ? tableFindings : standFindings;
      findings.push(...lying(context, view, put.part, `${where}.put`));
    });
    return findings;
  });
}

/** Wherever a part lies alone, it lies well inside its face and on the table. */
export const restsStable: Rule = {
  id: ID,
  forbids:
    'a part that lies with its centre of mass near an edge, over the regrip table, or not as the file says',
  why: 'a part that tips while the gripper is away is not where the robot will look for it',
  judge,
};

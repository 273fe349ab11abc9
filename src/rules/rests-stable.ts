import { convexOutline } from '../geometry/hull.js';
import { polygonEdges } from '../geometry/polygon.js';
import { IDENTITY, inverse, place, type Pose } from '../geometry/pose.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { dot, subtract, type Vec3 } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { shapeSolid } from '../model/part-geometry.js';
import { restPose } from '../model/part-rests.js';
import { lyingPose } from '../model/placement.js';
import { lyingOverOpening } from '../model/stations.js';
import type { PlanPose } from '../model/plan.js';
import type { FaceName } from '../model/scalars.js';
import type { Settings } from '../model/settings.js';
import { poseOf } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'rests-stable';

const ROUNDING = 0.05;
/** Corners this near to the lowest one touch the top too, mm. */
const LEVEL = 0.01;
const UP: Vec3 = [0, 0, 1];

/** How far the centre of mass of a part is inside what it stands on, and how far it should be, mm. */
interface Standing {
  readonly margin: number;
  readonly limit: number;
}

/** The convex outline of the lowest corners against the centre of mass above it; nothing is inside a line or point. */
function standingOf({ pieces, centre, bounds }: Solid, settings: Settings): Standing {
  const lowest = bounds.low[2];
  const corners = pieces.flatMap(({ vertices }) => vertices);
  const feet = convexOutline(
    corners.filter((corner) => corner[2] - lowest <= LEVEL).map(([x, y]): Vec3 => [x, y, 0]),
    UP,
    LEVEL,
  );
  const inside = polygonEdges(feet, UP).map(({ from, outward }) => -dot(subtract(centre, from), outward));
  const { margin: least, tilt } = settings.rests;
  return {
    margin: feet.length < 3 ? 0 : Math.min(...inside),
    limit: Math.max(least, (centre[2] - lowest) * Math.tan((tilt * Math.PI) / 180)),
  };
}

/** Whether all that looks down at the lowest level is round. */
function rolls({ faces, bounds }: Solid): boolean {
  const under = faces.filter(
    ({ normal, offset }) => normal[2] < -1 + 1e-9 && Math.abs(-offset - bounds.low[2]) <= LEVEL,
  );
  return under.length > 0 && under.every(({ curved }) => curved !== undefined);
}

function restFindings({ settings }: RuleContext, view: StageView, rest: FaceName, where: string): Finding[] {
  const { shape } = view.placed.part;
  const name = view.stage.part;
  if (restPose(shape, rest) === undefined)
    return [breach(ID, `${where}.rest`, `${name} has no face "${rest}" that it could lie on`)];
  const lying = placeSolid(shapeSolid(shape), lyingPose(shape, rest, IDENTITY, 0));
  if (rolls(lying)) return [breach(ID, `${where}.rest`, `${name} rolls on its round face ${rest}`)];
  const { margin, limit } = standingOf(lying, settings);
  if (margin >= limit - 1e-6) return [];
  const message =
    `${name} on its face ${rest} has its centre of mass ${shown(margin)} mm inside the edge; ` +
    `${shown(limit)} is needed`;
  return [breach(ID, `${where}.rest`, message, { value: margin, limit })];
}

/** The part's outline must not hang over the edge of the regrip table. */
function tableFindings({ cell }: RuleContext, view: StageView, part: PlanPose, where: string): Finding[] {
  const solid = placeSolid(shapeSolid(view.placed.part.shape), poseOf(part));
  const seen: Pose = inverse(cell.regrip.pose);
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
    const first = view.stage.handling[0]?.take.rest;
    const findings =
      first === undefined || wished === undefined || wished === first
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
      findings.push(...restFindings(context, view, take.rest, `${where}.take`));
      if (put.to === 'place' || put.rest === null) return;
      findings.push(...restFindings(context, view, put.rest, `${where}.put`));
      const lying = put.to === 'regrip' ? tableFindings : standFindings;
      findings.push(...lying(context, view, put.part, `${where}.put`));
    });
    return findings;
  });
}

/** Wherever a part lies alone, it lies well inside what it stands on, cannot roll, and is on the table. */
export const restsStable: Rule = {
  id: ID,
  forbids:
    'a part that lies with its centre of mass near an edge, on a round face, over the regrip table, or not as the file says',
  why: 'a part that tips or rolls while the gripper is away is not where the robot will look for it',
  judge,
};

import { axisX, compose, inverse, type Pose } from '../geometry/pose.js';
import type { Finding } from '../model/finding.js';
import { restPose } from '../model/part-rests.js';
import { lyingPose } from '../model/placement.js';
import type { Handling, PlanPose } from '../model/plan.js';
import type { FaceName } from '../model/scalars.js';
import { STATION_WORDS, stationOf } from '../model/stations.js';
import { POSE_TOLERANCE, poseMiss, poseOf, within } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'handling-continuous';

function poseFindings(where: string, what: string, stated: PlanPose, wanted: Pose): Finding[] {
  const miss = poseMiss(poseOf(stated), wanted);
  if (within(miss, POSE_TOLERANCE)) return [];
  const message = `${what}: ${shown(miss.mm)} mm and ${shown(miss.degrees)} degrees off`;
  return [breach(ID, where, message, { value: miss.mm, limit: POSE_TOLERANCE.mm })];
}

/** The way a part lies on `rest` at a station, turned about the vertical as the stated pose is. */
function lyingLike(station: Pose, { placed }: StageView, rest: FaceName, stated: PlanPose): Pose {
  const unturned = lyingPose(placed.part.shape, rest, station, 0);
  const [now, then] = [poseOf(stated), unturned].map((pose) => compose(inverse(station), pose).turn);
  // Of the two axes compared, the more level one tells the turn about the vertical.
  const x = [axisX(now!), axisX(then!)];
  const level = Math.hypot(x[1]![0], x[1]![1]) > 0.5;
  const [a, b] = level ? x : [sideways(now!), sideways(then!)];
  const yaw = Math.atan2(a![1], a![0]) - Math.atan2(b![1], b![0]);
  return lyingPose(placed.part.shape, rest, station, yaw);
}

const sideways = (turn: Pose['turn']): readonly [number, number] => [turn[1], turn[4]];

/** Where the part lies when set down, and that the next grip takes it from just there. */
function regripFindings(context: RuleContext, view: StageView, i: number): Finding[] {
  const { put } = view.stage.handling[i]!;
  const next = view.stage.handling[i + 1]!.take;
  const where = `${view.where}.handling[${i}].put`;
  const nextWhere = `${view.where}.handling[${i + 1}].take`;
  const findings: Finding[] = [];
  const station = put.to === 'place' ? undefined : stationOf(context.cell, put.to);
  if (put.to === 'place')
    findings.push(breach(ID, `${where}.to`, `only the last grip puts ${view.stage.part} in place`));
  else if (station === undefined)
    findings.push(breach(ID, `${where}.to`, `the cell has not ${STATION_WORDS[put.to]}`));
  if (put.rest === null) findings.push(breach(ID, `${where}.rest`, 'a part that is set down lies on a face'));
  // A rest that the part does not have is told by the rule rests-stable.
  else if (
    station !== undefined &&
    put.to !== 'place' &&
    restPose(view.placed.part.shape, put.rest) !== undefined
  ) {
    const lying = lyingLike(station.pose, view, put.rest, put.part);
    const what = `not lying on ${put.rest} at ${STATION_WORDS[put.to]}`;
    findings.push(...poseFindings(`${where}.part`, what, put.part, lying));
  }
  if (put.to !== 'place' && next.from !== put.to) {
    const message = `${view.stage.part} lies at ${STATION_WORDS[put.to]}, not at ${STATION_WORDS[next.from]}`;
    findings.push(breach(ID, `${nextWhere}.from`, message));
  }
  if (put.rest !== null && next.rest !== put.rest)
    findings.push(breach(ID, `${nextWhere}.rest`, `taken from ${next.rest}, set down on ${put.rest}`));
  findings.push(
    ...poseFindings(`${nextWhere}.part`, 'not taken where it was set down', next.part, poseOf(put.part)),
  );
  return findings;
}

function firstFindings({ cell }: RuleContext, view: StageView, { take }: Handling): Finding[] {
  const where = `${view.where}.handling[0].take`;
  const findings: Finding[] = [];
  const { shape } = view.placed.part;
  // A rest that the part does not have is told by the rule rests-stable.
  if (restPose(shape, take.rest) !== undefined) {
    const lying = lyingPose(shape, take.rest, cell.infeed.pose, 0);
    const what = `not lying on ${take.rest} at the infeed`;
    findings.push(...poseFindings(`${where}.part`, what, take.part, lying));
  }
  if (take.from !== 'infeed')
    findings.push(
      breach(
        ID,
        `${where}.from`,
        `${view.stage.part} comes from the infeed, not ${STATION_WORDS[take.from]}`,
      ),
    );
  return findings;
}

function lastFindings(view: StageView, last: Handling): Finding[] {
  const where = `${view.where}.handling[${view.stage.handling.length - 1}].put`;
  const findings = poseFindings(
    `${where}.part`,
    'not the final pose of the part',
    last.put.part,
    view.placed.pose,
  );
  if (last.put.to !== 'place')
    findings.push(
      breach(ID, `${where}.to`, `the last grip puts ${view.stage.part} at ${STATION_WORDS[last.put.to]}`),
    );
  if (last.put.rest !== null)
    findings.push(breach(ID, `${where}.rest`, `a part in place lies on no rest, here ${last.put.rest}`));
  return findings;
}

function judge(context: RuleContext): Finding[] {
  return stageViews(context).flatMap((view) => {
    const { handling } = view.stage;
    // Nothing is handled where a person sets the part.
    if (handling.length === 0) return [];
    return [
      ...firstFindings(context, view, handling[0]!),
      ...handling.slice(1).flatMap((_, i) => regripFindings(context, view, i)),
      ...lastFindings(view, handling.at(-1)!),
    ];
  });
}

/** Each part goes from the infeed to its final pose without a break: what is set down is taken where it lies. */
export const handlingContinuous: Rule = {
  id: ID,
  forbids:
    'poses and rests of one grip that do not follow from the one before, the infeed or the final place',
  why: 'a robot takes the part where the plan says it lies; if it lies elsewhere, the part falls or is bent',
  judge,
};

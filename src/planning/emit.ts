import { rounded } from '../base/order.js';
import { compose, place, rotate, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { Joint } from '../facts/joints.js';
import type {
  AlsoHeldPart,
  GeometricPlan,
  Handling,
  PlanGrip,
  PlanJoint,
  PlanReserve,
  Stage,
} from '../model/plan.js';
import { robotsOf } from '../model/cell.js';
import { inCellAt } from '../model/table-turn.js';
import { footingOf } from '../model/standing.js';
import { powerLossOf } from '../rules/power-loss.js';
import { carriedHome, weakestCarried } from '../rules/carried.js';
import { NO_STAGE_DISTORTION } from './distortion.js';
import type { CompleteOrder } from './complete.js';
import type { Synchronised } from './handshakes.js';
import type { Rework } from './rework.js';
import type { TimedStep } from './bare-step.js';
import { filledPrograms } from './fill-programs.js';
import type { AlsoHeld } from './other-hold.js';
import { protocolOf, statedHandshakes } from './stated-handshakes.js';
import { holdsOf, type ManualDraft, type RobotDraft, type StageDraft } from './stage-draft.js';
import { statedPoint, statedPose } from './stated-pose.js';
import { byCode, statedRework, statedSides, statedTack, statingOf, type Stating } from './stated-tacks.js';
import { statedJoints } from './steps.js';
import { heldBy } from './held-grip.js';

const unitVector = (v: Vec3): [number, number, number] => [
  rounded(v[0], 9),
  rounded(v[1], 9),
  rounded(v[2], 9),
];

/** From where all is planned, the table at index angle 0, to the cell with it at that of a stage; undefined at 0. */
type ToCell = Pose | undefined;

const toCell = ({ scene }: Facts, { angle }: StageDraft): ToCell =>
  angle === 0 ? undefined : inCellAt(scene.cell, angle);

const inCell = (frame: ToCell, pose: Pose): Pose => (frame ? compose(frame, pose) : pose);

const statedDirection = (direction: Vec3, frame: ToCell): [number, number, number] =>
  unitVector(frame ? rotate(frame.turn, direction) : direction);

const statedGrip = ({ gripper, face, position, turn, group }: Grip): PlanGrip => ({
  gripper: gripper.id,
  face,
  position: [position[0], position[1]],
  turn: rounded((turn * 180) / Math.PI, 6),
  ...(group === undefined ? {} : { group }),
});

/** What a grip carries least surely between two poses of its part, and at the arm's home. */
function statedCarried(
  facts: Facts,
  part: number,
  grip: Grip,
  poses: readonly [Pose, Pose],
): Handling['carried'] {
  const { scene, settings, programs } = facts;
  const held = heldBy({ part, grip });
  const on = [poses[0], carriedHome(scene, held), poses[1]];
  const { reserve, ...rest } = weakestCarried(programs, scene, held, on, settings);
  return { ...rest, reserve: rounded(reserve, 4) };
}

function handlingOf(facts: Facts, draft: RobotDraft): Handling[] {
  const { part, way } = draft;
  const transfers = way.chain.transfers.map(({ grip, from, take, to, setDown }): Handling => ({
    grip: statedGrip(grip),
    take: {
      from: from.station,
      rest: from.face,
      part: statedPose(from.pose),
      approach: statedJoints(take.approach),
      joints: statedJoints(take.joints),
      lifted: statedJoints(take.leave),
    },
    put: {
      to: to.station as Exclude<Handling['put']['to'], 'place'>,
      rest: to.face,
      part: statedPose(to.pose),
      approach: statedJoints(setDown.approach),
      joints: statedJoints(setDown.joints),
      retreat: statedJoints(setDown.leave),
    },
    carried: statedCarried(facts, part, grip, [from.pose, to.pose]),
  }));
  const { spot } = way.chain;
  const last: Handling = {
    grip: statedGrip(way.grip),
    take: {
      from: spot.station,
      rest: spot.face,
      part: statedPose(spot.pose),
      approach: statedJoints(way.take.approach),
      joints: statedJoints(way.take.joints),
      lifted: statedJoints(way.take.leave),
    },
    put: {
      to: 'place',
      rest: null,
      part: statedPose(inCell(toCell(facts, draft), facts.scene.parts[part]!.pose)),
      approach: statedJoints(way.place.approach),
      joints: statedJoints(way.place.joints),
      retreat: statedJoints(way.place.leave),
    },
    carried: statedCarried(facts, part, way.grip, [spot.pose, facts.scene.parts[part]!.pose]),
  };
  return [...transfers, last];
}

/** The joints of the weldment as the plan states them; seams in the weldment frame. */
export const statedJoint = (facts: Facts, joint: Joint): PlanJoint => ({
  id: joint.id,
  between: [facts.scene.parts[joint.a]!.part.id, facts.scene.parts[joint.b]!.part.id],
  type: joint.type,
  leg: joint.leg,
  origin: joint.origin,
  seams: joint.seams.map(({ id, from, to, open }) => ({
    id,
    from: statedPoint(from),
    to: statedPoint(to),
    open: unitVector(open),
  })),
});

const statedOtherHold = ({ scene }: Facts, { part, grip, motion, kept }: AlsoHeld): AlsoHeldPart => ({
  robot: grip.robot.id,
  part: scene.parts[part]!.part.id,
  grip: statedGrip(grip),
  approach: kept ? null : statedJoints(motion.approach),
  joints: statedJoints(motion.joints),
  retreat: statedJoints(motion.leave),
});

/** What a loss of power means for the parts held while the securing tacks of a stage are laid. */
function statedPowerLoss(facts: Facts, draft: RobotDraft): Stage['powerLoss'] {
  const frame = toCell(facts, draft);
  return holdsOf(draft).map((hold) => {
    const loss = powerLossOf(facts.scene, heldBy(hold));
    if (loss.zone === null || frame === undefined) return loss;
    const [x, y] = statedPoint(place(frame, [...loss.zone.at, 0]));
    return { ...loss, zone: { ...loss.zone, at: [x, y] } };
  });
}

/** What bears the part of a stage from below, by the parts that joined before it. */
function standsOn({ scene }: Facts, stages: CompleteOrder['stages'], i: number): Stage['standsOn'] {
  const before = stages.slice(0, i).map(({ part }) => part);
  const { table, parts } = footingOf(scene, stages[i]!.part, (part) => before.includes(part));
  const names = before.filter((part) => parts.includes(part)).map((part) => scene.parts[part]!.part.id);
  return { table, parts: names };
}

export function statedStages(
  facts: Facts,
  { stages }: CompleteOrder,
  reserves: readonly (readonly PlanReserve[])[],
  rework: readonly (readonly Rework[])[],
): Stage[] {
  return stages.map((draft, i) => {
    const stating = statingOf(facts, draft, toCell(facts, draft));
    return {
      number: i + 1,
      ...(facts.scene.cell.table.turntable && { turn: draft.angle }),
      part: facts.scene.parts[draft.part]!.part.id,
      ...(draft.manual ? statedByHand(facts, draft) : statedByRobots(facts, draft, stating)),
      stands: draft.stands,
      ...(draft.stands === 'free-standing' && { standsOn: standsOn(facts, stages, i) }),
      sidesMissed: statedSides(facts, draft),
      rework: rework[i]!.map((one) => statedRework(stating, one)),
      reserves: [...reserves[i]!],
      distortion: NO_STAGE_DISTORTION,
    };
  });
}

/** What a stage says of how its part gets into place, is held and tacked. */
type Work = Omit<
  Stage,
  'number' | 'turn' | 'part' | 'stands' | 'standsOn' | 'sidesMissed' | 'rework' | 'reserves' | 'distortion'
>;

const statedByRobots = (facts: Facts, draft: RobotDraft, stating: Stating): Work => ({
  robot: draft.way.grip.robot.id,
  handling: handlingOf(facts, draft),
  approach: {
    direction: statedDirection(draft.way.approach.direction, toCell(facts, draft)),
    distance: rounded(draft.way.approach.distance, 4),
  },
  held: draft.held ? draft.way.grip.robot.id : null,
  ...(draft.alsoHeld && { alsoHeld: statedOtherHold(facts, draft.alsoHeld) }),
  proofPull: draft.proofPull ?? null,
  powerLoss: statedPowerLoss(facts, draft),
  remedies: [...draft.fitUp.remedies],
  accuracy: [...draft.fitUp.stated],
  tacks: draft.tacks.map((tack) => statedTack(stating, tack)),
});

const statedByHand = (facts: Facts, { manual, stands, tacks }: ManualDraft): Work => ({
  manual: {
    seconds: manual.seconds,
    clamp: stands === 'clamped' ? facts.scene.cell.table.clamp.name : null,
    tacks: tacks.map((tack) => ({
      ...{ id: tack.id, joint: tack.site.joint.id, seam: tack.site.seam.id, start: tack.site.start },
      ...{ length: tack.length, leg: tack.leg, order: tack.order, strength: rounded(tack.strength, 3) },
      ...byCode(facts, tack),
    })),
  },
  ...{ robot: null, handling: [], approach: null, held: null, proofPull: null },
  ...{ powerLoss: [], remedies: [], accuracy: [], tacks: [] },
});

/** The steps of a rework, with their numbers in it and their seconds from the start of the step that asks for it. */
function reworkSteps({ other }: Rework): TimedStep[] {
  let before = 0;
  return (other?.steps ?? []).map(({ step, milliseconds }, i) => {
    const start = before;
    before += milliseconds;
    return { ...step, n: i + 1, start: start / 1000, end: before / 1000 };
  });
}

/** Programs with their frames, and handshakes, as the plan states them. */
export function statedTimeline(
  facts: Facts,
  { schedule, set }: Synchronised,
  stages: readonly Stage[],
  rework: readonly (readonly Rework[])[],
): Pick<GeometricPlan, 'handshakes' | 'handshakeSet' | 'programs' | 'frames'> {
  const { settings, scene } = facts;
  const reworked = new Map(rework.flat().map((one) => [one.instead.id, reworkSteps(one)]));
  const withRework = (step: TimedStep): TimedStep =>
    step.do === 'accept' ? { ...step, rework: reworked.get(step.tack) ?? [] } : step;
  return {
    handshakes: statedHandshakes(robotsOf(scene.cell), schedule, settings),
    handshakeSet: { ...set, protocol: protocolOf(settings.handshakes.kind) },
    ...filledPrograms(
      scene.cell,
      stages,
      schedule.programs.map((steps) => steps.map(withRework)),
    ),
  };
}

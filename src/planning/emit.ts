import { rounded } from '../base/order.js';
import { toRollPitchYaw, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { Joint } from '../facts/joints.js';
import type {
  GeometricPlan,
  Handling,
  PlanGrip,
  PlanJoint,
  PlanPose,
  PlanReserve,
  PlanTack,
  Stage,
} from '../model/plan.js';
import type { CompleteOrder } from './complete.js';
import type { StageDraft, StageTack } from './stage-draft.js';
import { statedJoints } from './steps.js';

const point = (v: Vec3): [number, number, number] => [rounded(v[0], 4), rounded(v[1], 4), rounded(v[2], 4)];
const unitVector = (v: Vec3): [number, number, number] => [
  rounded(v[0], 9),
  rounded(v[1], 9),
  rounded(v[2], 9),
];

function statedPose({ at, turn }: Pose): PlanPose {
  const [roll, pitch, yaw] = toRollPitchYaw(turn);
  return { at: point(at), turn: [rounded(roll, 5), rounded(pitch, 5), rounded(yaw, 5)] };
}

const statedGrip = ({ gripper, face, position, turn }: Grip): PlanGrip => ({
  gripper: gripper.id,
  face,
  position: [position[0], position[1]],
  turn: rounded((turn * 180) / Math.PI, 6),
});

function handlingOf(facts: Facts, { part, way }: StageDraft): Handling[] {
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
      part: statedPose(facts.scene.parts[part]!.pose),
      approach: statedJoints(way.place.approach),
      joints: statedJoints(way.place.joints),
      retreat: statedJoints(way.place.leave),
    },
  };
  return [...transfers, last];
}

const statedTack = (tack: StageTack): PlanTack => ({
  id: tack.id,
  joint: tack.site.joint.id,
  seam: tack.site.seam.id,
  start: tack.site.start,
  length: tack.length,
  leg: tack.leg,
  order: tack.order,
  phase: tack.phase,
  strength: rounded(tack.strength, 3),
  torch: {
    start: statedPose(tack.motion.start),
    end: statedPose(tack.motion.end),
    clear: statedJoints(tack.motion.clear),
    joints: statedJoints(tack.motion.joints),
    jointsEnd: statedJoints(tack.motion.jointsEnd),
    leave: statedJoints(tack.motion.leave),
  },
});

/** The joints of the weldment as the plan states them; seams in the weldment frame. */
export const statedJoint = (facts: Facts, joint: Joint): PlanJoint => ({
  id: joint.id,
  between: [facts.scene.parts[joint.a]!.part.id, facts.scene.parts[joint.b]!.part.id],
  type: joint.type,
  leg: joint.leg,
  origin: joint.origin,
  seams: joint.seams.map(({ id, from, to, open }) => ({
    id,
    from: point(from),
    to: point(to),
    open: unitVector(open),
  })),
});

export function statedStages(
  facts: Facts,
  { stages }: CompleteOrder,
  reserves: readonly (readonly PlanReserve[])[],
): Stage[] {
  return stages.map((draft, i) => ({
    number: i + 1,
    part: facts.scene.parts[draft.part]!.part.id,
    handling: handlingOf(facts, draft),
    approach: {
      direction: unitVector(draft.way.approach.direction),
      distance: rounded(draft.way.approach.distance, 4),
    },
    held: draft.held ? facts.scene.cell.handler.id : null,
    stands: draft.stands,
    remedies: [...draft.fitUp.remedies],
    accuracy: [...draft.fitUp.stated],
    tacks: draft.tacks.map(statedTack),
    reserves: [...reserves[i]!],
  }));
}

const REACTION = 'keep holding, stop both robots, call a person; never let go';

/** Programs, handshakes and timeline as the plan states them. */
export function statedTimeline(
  facts: Facts,
  { schedule }: CompleteOrder,
): Pick<GeometricPlan, 'handshakes' | 'programs'> {
  const { handler, welder } = facts.scene.cell;
  const names = { handler: handler.id, welder: welder.id };
  return {
    handshakes: schedule.handshakes.map(({ id, precedence, signalStep, awaitStep }) => ({
      id,
      from: { robot: names[precedence.from.robot], step: signalStep },
      to: { robot: names[precedence.to.robot], step: awaitStep },
      meaning: precedence.meaning,
      guards: precedence.guards,
      timeLimit: facts.settings.handshakes['time-limit'],
      reaction: REACTION,
    })),
    programs: [
      { robot: handler.id, duty: 'handle', steps: [...schedule.handler] },
      { robot: welder.id, duty: 'weld', steps: [...schedule.welder] },
    ],
  };
}

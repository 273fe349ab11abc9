import { axisZ, compose, translate, type Pose } from '../geometry/pose.js';
import { scale, type Vec3 } from '../geometry/vector.js';
import { sixOf, toDegrees, type Arm, type Joints } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { DEFAULT_WRIST_MARGIN, jointsMiss } from '../kinematics/reach.js';
import { followStraight } from '../kinematics/straight-move.js';
import { poseMiss, jointsOf, within } from './plan-frames.js';
import { breach, shown } from './rule.js';
import type { Finding } from '../model/finding.js';

/** Joints are written with rounded degrees: what that may move the flange by. */
export const REACH_TOLERANCE = { mm: 0.2, degrees: 0.05 } as const;
/** Degrees between the joints at which a stroke ends and those stated, at most. */
const END_TOLERANCE = 0.1;
/** Rounding may carry a joint over its limit by this many radians, and take this much from the wrist margin. */
const LIMIT_ROUNDING = 2e-5;
const WRIST_MARGIN = DEFAULT_WRIST_MARGIN - LIMIT_ROUNDING;
/** Samples of a stroke, mm. */
const STEP = 5;

/** A pose that an arm shall take, and the joints stated for it. */
export interface Station {
  readonly where: string;
  /** Degrees, as in the plan. */
  readonly joints: readonly number[];
  /** Flange, cell frame. */
  readonly flange: Pose;
}

export interface StandingArm {
  readonly id: string;
  readonly base: Pose;
  readonly arm: Arm;
}

const wider = ([low, high]: readonly [number, number]) =>
  [low - LIMIT_ROUNDING, high + LIMIT_ROUNDING] as const;

const roomy = (arm: Arm): Arm => ({
  ...arm,
  limits: sixOf((i) => wider(arm.limits[i]!)),
  elbow: arm.elbow && wider(arm.elbow),
});

/** The flange in the cell by forward kinematics. */
export const flangeOf = ({ base, arm }: StandingArm, joints: Joints): Pose =>
  compose(base, forward(arm, joints));

/** Whether the stated joints (degrees) are inside the limits, with the wrist bent enough for a straight move if asked. */
export function jointFindings(
  rule: string,
  robot: StandingArm,
  { where, joints }: Pick<Station, 'where' | 'joints'>,
  straight: boolean,
): Finding[] {
  const miss = jointsMiss(roomy(robot.arm), jointsOf(joints), straight ? WRIST_MARGIN : 0);
  if (miss?.kind === 'limit') {
    const [low, high] = robot.arm.limits[miss.joint - 1]!.map(toDegrees);
    const limit = miss.value < low! ? low! : high!;
    const message = `joint ${miss.joint} of ${robot.id} at ${shown(miss.value)} degrees; its limit is ${shown(limit)}`;
    return [breach(rule, where, message, { value: miss.value, limit })];
  }
  if (miss === undefined) return [];
  if (miss.kind === 'elbow') {
    const [low, high] = robot.arm.elbow!.map(toDegrees);
    const limit = miss.value < low! ? low! : high!;
    const message = `the elbow of ${robot.id} stands at ${shown(miss.value)} degrees; its limit is ${shown(limit)}`;
    return [breach(rule, where, message, { value: miss.value, limit })];
  }
  const message = `the wrist of ${robot.id} is bent by ${shown(miss.degrees)} degrees; ${shown(miss.needed)} are needed`;
  return [breach(rule, where, message, { value: miss.degrees, limit: miss.needed })];
}

/** Whether the stated joints are allowed and bring the flange to where it shall be. */
export function stationFindings(rule: string, robot: StandingArm, station: Station): Finding[] {
  const findings = jointFindings(rule, robot, station, true);
  if (findings.length > 0) return findings;
  const off = poseMiss(flangeOf(robot, jointsOf(station.joints)), station.flange);
  if (within(off, REACH_TOLERANCE)) return [];
  const message = `${robot.id} is ${shown(off.mm)} mm and ${shown(off.degrees)} degrees off where it shall be`;
  return [breach(rule, station.where, message, { value: off.mm, limit: REACH_TOLERANCE.mm })];
}

/** Whether the straight stroke between two stations that are sound by themselves stays in one branch of the arm. */
export function strokeFindings(
  rule: string,
  robot: StandingArm,
  from: Pick<Station, 'joints'>,
  to: Pick<Station, 'where' | 'joints'>,
): Finding[] {
  const [start, end] = [jointsOf(from.joints), jointsOf(to.joints)];
  const arm = roomy(robot.arm);
  const way = followStraight(arm, forward(arm, start), forward(arm, end), start, STEP, WRIST_MARGIN);
  if (!way.ok) {
    const { atFraction, miss } = way.error;
    const message = `the stroke to ${to.where} fails after ${shown(atFraction * 100)} % of its way: ${miss.kind}`;
    return [breach(rule, to.where, message, { value: atFraction, limit: 1 })];
  }
  const last = way.value.at(-1)!;
  const off = toDegrees(Math.max(...last.map((value, i) => Math.abs(value - end[i]!))));
  if (off <= END_TOLERANCE) return [];
  const message = `the stroke ends ${shown(off)} degrees off the joints stated: another branch or another turn`;
  return [breach(rule, to.where, message, { value: off, limit: END_TOLERANCE })];
}

/** A chain of straight strokes: every station, then every stroke whose two ends are sound. */
export function chainFindings(rule: string, robot: StandingArm, stations: readonly Station[]): Finding[] {
  const own = stations.map((station) => stationFindings(rule, robot, station));
  const strokes = stations
    .slice(1)
    .flatMap((to, i) =>
      own[i]!.length + own[i + 1]!.length > 0 ? [] : strokeFindings(rule, robot, stations[i]!, to),
    );
  return [...own.flat(), ...strokes];
}

/** A flange pose moved back along its own axis or along the feed of a wire, mm. */
export const backAlong = (pose: Pose, axis: Vec3, way: number): Pose => translate(pose, scale(axis, -way));

export const ownAxis = (pose: Pose): Vec3 => axisZ(pose.turn);

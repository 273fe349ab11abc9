import { snap } from '../base/order.js';
import type { Arm, JointNumber, Joints } from './arm.js';
import { shapeAngle, sixOf, toDegrees } from './arm.js';

/** A joint would have to go past its limit. All angles are in degrees, as joint values. */
export interface LimitMiss {
  readonly kind: 'limit';
  readonly joint: JointNumber;
  /** How far past the limit. */
  readonly degrees: number;
  readonly value: number;
  readonly limit: number;
}

/** The upper arm and the forearm of a coupled arm would stand at an angle (shape angle 3) that its links do not allow. */
export interface ElbowMiss {
  readonly kind: 'elbow';
  /** How far past the limit. */
  readonly degrees: number;
  readonly value: number;
  readonly limit: number;
}

/** The wrist is too nearly stretched, where axes 4 and 6 line up and turn without bound. Degrees. */
export interface WristMiss {
  readonly kind: 'wrist-singular';
  /** Angle between the axes 4 and 6, as lines. */
  readonly degrees: number;
  /** Least angle asked for. */
  readonly needed: number;
}

/** Joint values are compared after rounding to this grain, radians. */
export const ANGLE_GRAIN = 1e-9;

const TURN = 2 * Math.PI;

/** `value` plus whole turns, so that it comes within half a turn of `target`; exactly opposite, above it. */
export function turnedNear(value: number, target: number): number {
  const offset = value - target;
  const turned = offset - TURN * Math.round(offset / TURN);
  return target + (turned < -Math.PI + ANGLE_GRAIN ? turned + TURN : turned);
}

/**
 * A joint value by whole turns as near as can be to the middle of the limits of its place, 0 to 5. When any number of turns
 * brings it inside them this does, with the largest margin; otherwise it gives the smallest excess.
 */
export const turnedIntoLimit = ({ limits }: Arm, place: number, value: number): number =>
  turnedNear(value, middleOf(limits[place]!));

/** The same for each joint. */
export const turnedIntoLimits = (arm: Arm, joints: Joints): Joints =>
  sixOf((place) => turnedIntoLimit(arm, place, joints[place]!));

const middleOf = (range: readonly [low: number, high: number]): number => (range[0] + range[1]) / 2;

/** Each joint by whole turns as near as can be to the same joint of `target`, whatever the limits. */
export const turnedNearJoints = (joints: Joints, target: Joints): Joints => [
  turnedNear(joints[0], target[0]),
  turnedNear(joints[1], target[1]),
  turnedNear(joints[2], target[2]),
  turnedNear(joints[3], target[3]),
  turnedNear(joints[4], target[4]),
  turnedNear(joints[5], target[5]),
];

/** A joint may stand at no more than this many whole turns, and an arm at no more than this many sets of joints. */
const MOST_TURNS = { joint: 5, arm: 64 } as const;

/**
 * The same pose by every whole turn of every joint that its limits admit, the largest margin first; none when a joint
 * has no turn inside its limits. The first is that of `turnedIntoLimits`. A range of many turns is searched around
 * its middle, and of very many combinations those with the largest margins are kept.
 */
export function admissibleTurns(arm: Arm, joints: Joints): readonly Joints[] {
  const best = turnedIntoLimits(arm, joints);
  let found: readonly { readonly joints: Joints; readonly margin: number }[] = [
    { joints: best, margin: limitMargin(arm, best) },
  ];
  if (found[0]!.margin < 0) return [];
  for (let i = 0; i < 6; i += 1) {
    const values = turnsOfJoint(arm, i, best[i]!);
    if (values.length === 1) continue;
    found = found
      .flatMap(({ joints: others }) =>
        values.map((value) => {
          const turned = sixOf((k) => (k === i ? value : others[k]!));
          return { joints: turned, margin: limitMargin(arm, turned) };
        }),
      )
      .sort((a, b) => b.margin - a.margin)
      .slice(0, MOST_TURNS.arm);
  }
  return found.map((one) => one.joints);
}

/** The best value of a joint and those whole turns away that its limits admit, the nearest to the best first. */
function turnsOfJoint(arm: Arm, i: number, best: number): readonly number[] {
  const values = [best];
  for (let turns = 1; values.length < MOST_TURNS.joint; turns += 1) {
    const admitted = [best + turns * TURN, best - turns * TURN].filter(
      (value) => jointMargin(arm.limits[i]!, value) >= 0,
    );
    if (admitted.length === 0) break;
    values.push(...admitted);
  }
  return values.slice(0, MOST_TURNS.joint);
}

/** Distance (radians, negative outside) of a value to the nearer end of a range. */
const roomIn = (range: readonly [low: number, high: number], value: number): number =>
  Math.min(value - range[0], range[1] - value);

/** The same as a multiple of the grain. */
const jointMargin = (range: readonly [low: number, high: number], value: number): number =>
  snap(roomIn(range, value), ANGLE_GRAIN);

/** The angle of the elbow by whole turns nearest to the middle of its range; undefined for an arm without one. */
function elbowAngle(arm: Arm, joints: Joints): number | undefined {
  if (arm.elbow === undefined || arm.coupled !== true) return undefined;
  return turnedNear(shapeAngle(arm, joints, 2), (arm.elbow[0] + arm.elbow[1]) / 2);
}

/**
 * The smallest distance of a joint, or of the elbow of a coupled arm, to its nearer limit, radians, negative outside;
 * a multiple of the grain.
 */
export function limitMargin(arm: Arm, joints: Joints): number {
  const elbow = elbowAngle(arm, joints);
  let least = elbow === undefined ? Infinity : roomIn(arm.elbow!, elbow);
  for (let i = 0; i < 6; i += 1) least = Math.min(least, roomIn(arm.limits[i]!, joints[i]!));
  return snap(least, ANGLE_GRAIN);
}

/** The miss of an elbow past its range, or undefined when it is inside or has none. */
export function elbowMiss(arm: Arm, joints: Joints): ElbowMiss | undefined {
  const value = elbowAngle(arm, joints);
  if (value === undefined) return undefined;
  const [low, high] = arm.elbow!;
  const excess = -jointMargin(arm.elbow!, value);
  if (excess <= 0) return undefined;
  return {
    kind: 'elbow',
    degrees: toDegrees(excess),
    value: toDegrees(value),
    limit: toDegrees(value < low ? low : high),
  };
}

/** The joint that is furthest past a limit (the lowest number of equals), or undefined when all are inside. */
export function limitMiss({ limits }: Arm, joints: Joints): LimitMiss | undefined {
  let worst = -1;
  let worstExcess = 0;
  for (let i = 0; i < 6; i += 1) {
    if (roomIn(limits[i]!, joints[i]!) >= 0) continue;
    const excess = -jointMargin(limits[i]!, joints[i]!);
    if (excess <= worstExcess) continue;
    worstExcess = excess;
    worst = i;
  }
  if (worst < 0) return undefined;
  const [low, high] = limits[worst]!;
  const value = joints[worst]!;
  return {
    kind: 'limit',
    joint: (worst + 1) as JointNumber,
    degrees: toDegrees(worstExcess),
    value: toDegrees(value),
    limit: toDegrees(value < low ? low : high),
  };
}

/** |sin t5|: 0 when the wrist is stretched or folded onto itself, 1 when it is square. */
export const wristSine = ({ signs, offsets }: Arm, joints: Joints): number =>
  Math.abs(Math.sin(signs[4] * joints[4] - offsets[4]));

/** The miss of a wrist whose |sin t5| is below `wristMargin`, or undefined when it is bent enough. */
export function wristMiss(arm: Arm, joints: Joints, wristMargin: number): WristMiss | undefined {
  const sine = wristSine(arm, joints);
  if (sine >= wristMargin || snap(sine - wristMargin, ANGLE_GRAIN) >= 0) return undefined;
  return {
    kind: 'wrist-singular',
    degrees: toDegrees(Math.asin(Math.min(1, sine))),
    needed: toDegrees(Math.asin(Math.min(1, wristMargin))),
  };
}

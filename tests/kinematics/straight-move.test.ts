import { describe, expect, it } from 'vitest';
import type { Arm, Joints } from '../../src/kinematics/arm.js';
import { forearmLength, sixOf } from '../../src/kinematics/arm.js';
import { fromRollPitchYaw, translate } from '../../src/geometry/pose.js';
import type { Pose } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { along, distance, dot, subtract, unit } from '../../src/geometry/vector.js';
import { forward } from '../../src/kinematics/forward.js';
import { inverseBranch } from '../../src/kinematics/inverse.js';
import { followStraight, MAX_JOINT_STEP } from '../../src/kinematics/straight-move.js';
import { jointDifference, joints, poseDifference, radians, SET_1, SET_3 } from './published-arms.js';

/** Set 3 with other limits, in degrees, for joint 1, and almost a turn each way for joint 6. */
const withFirst = (low: number, high: number): Arm => ({
  ...SET_3,
  limits: sixOf((i) => {
    const [from, to] = i === 0 ? [low, high] : i === 5 ? [-350, 350] : [-200, 200];
    return [radians(from), radians(to)] as const;
  }),
});
const ROOMY = withFirst(-200, 200);

/** Flange looking straight down. */
const DOWN = fromRollPitchYaw(180, 0, 0);
const down = (x: number, y: number, z: number): Pose => ({ at: [x, y, z], turn: DOWN });

/** Facing the place, elbow up, wrist plain. */
function startAt(arm: Arm, pose: Pose): Joints {
  const found = inverseBranch(arm, pose, 0);
  if (!found.ok) throw new Error('the start is out of reach');
  return found.value.joints;
}

function followed(arm: Arm, from: Pose, to: Pose, start: Joints, maxStep = 10): readonly Joints[] {
  const found = followStraight(arm, from, to, start, maxStep);
  if (!found.ok) throw new Error(JSON.stringify(found.error));
  return found.value;
}

function refused(arm: Arm, from: Pose, to: Pose, start: Joints, maxStep = 10) {
  const found = followStraight(arm, from, to, start, maxStep);
  if (found.ok) throw new Error('the move was taken');
  return found.error;
}

const largestStep = (samples: readonly Joints[]): number =>
  Math.max(
    ...samples.slice(1).flatMap((sample, i) => sample.map((value, k) => Math.abs(value - samples[i]![k]!))),
  );

describe('followStraight, a move that works', () => {
  it.each([
    ['down onto a place', down(1200, 300, 900), down(1200, 300, 500)],
    ['across, in front of the arm', down(1100, -700, 600), down(1100, 700, 600)],
    [
      'turning on the way',
      down(1100, -300, 600),
      { ...down(1200, 300, 700), turn: fromRollPitchYaw(170, 20, 60) },
    ],
    [
      'turning on the spot',
      down(1100, 0, 600),
      { ...down(1100, 0, 600), turn: fromRollPitchYaw(150, 0, 90) },
    ],
  ] as const)('stays straight, continuous and within its step: %s', (_, from, to) => {
    const start = startAt(ROOMY, from);
    const samples = followed(ROOMY, from, to, start);
    expect(jointDifference(samples[0]!, start)).toBeLessThan(1e-9);
    expect(poseDifference(forward(ROOMY, samples.at(-1)!), to)).toBeLessThan(1e-6);
    expect(largestStep(samples)).toBeLessThanOrEqual(MAX_JOINT_STEP);
    const places = samples.map((sample) => forward(ROOMY, sample).at);
    places.slice(1).forEach((place, i) => {
      expect(distance(place, places[i]!)).toBeLessThanOrEqual(10 + 1e-6);
    });
    const whole = subtract(to.at, from.at);
    if (distance(from.at, to.at) === 0) return;
    for (const place of places) {
      const way = dot(subtract(place, from.at), unit(whole));
      expect(distance(place, along(from.at, unit(whole), way))).toBeLessThan(1e-6);
    }
  });

  it('is one sample when there is no way to go', () => {
    const pose = down(1200, 300, 900);
    expect(followed(SET_3, pose, pose, startAt(SET_3, pose))).toHaveLength(1);
  });

  it('runs joints on past half a turn where the limits allow, without a jump', () => {
    // Joint 1 passes 180 degrees on the way round behind the arm; its limits go to 400.
    const wide = withFirst(-400, 400);
    const [from, to] = [down(-1200, 200, 700), down(-1200, -200, 700)];
    const start = startAt(wide, from);
    expect(start[0]).toBeCloseTo(Math.atan2(200, -1200), 9);
    const samples = followed(wide, from, to, start);
    expect(samples.at(-1)![0]).toBeCloseTo(Math.atan2(-200, -1200) + 2 * Math.PI, 9);
    expect(largestStep(samples)).toBeLessThan(0.1);
  });

  it('halves its steps where a joint turns fast', () => {
    // Passing 45 mm beside axis 1, joint 1 turns by 2.3 radians within 200 mm: more than the few steps allow.
    const [from, to] = [down(-100, 45, 1500), down(100, 45, 1500)];
    const samples = followed(SET_1, from, to, startAt(SET_1, from), 100);
    expect(samples.length).toBeGreaterThan(3);
    expect(largestStep(samples)).toBeLessThanOrEqual(MAX_JOINT_STEP);
    expect(Math.abs(samples.at(-1)![0] - samples[0]![0])).toBeCloseTo(2 * Math.atan2(100, 45), 6);
  });
});

describe('followStraight, a move that fails', () => {
  it('says where it leaves reach', () => {
    const [from, to] = [down(1500, 0, 600), down(2700, 0, 600)];
    // The wrist centre runs level 190 mm above the shoulder height 495; stretched is c2 + hypot(a2, c3).
    const edge = 175 + Math.sqrt((1095 + forearmLength(SET_3)) ** 2 - (600 + 85 - 495) ** 2);
    const error = refused(SET_3, from, to, startAt(SET_3, from));
    expect(error.atFraction).toBeCloseTo((edge - 1500) / 1200, 6);
    expect(error.miss).toMatchObject({ kind: 'distance', side: 'too-far' });
    const coarse = refused(SET_3, from, to, startAt(SET_3, from), 1000);
    expect(coarse.atFraction).toBeCloseTo(error.atFraction, 4);
  });

  it('says where a joint meets its limit', () => {
    const arm = withFirst(-30, 30);
    const error = refused(arm, down(1200, 0, 700), down(1200, 1200, 700), startAt(arm, down(1200, 0, 700)));
    expect(error.atFraction).toBeCloseTo(Math.tan(radians(30)), 6);
    expect(error.miss).toMatchObject({ kind: 'limit', joint: 1 });
  });

  it('says where the wrist comes too near to being stretched', () => {
    // The flange looks ahead; rising or falling until the forearm does too stretches the wrist.
    const ahead: Vec3 = [1300, 0, 1000];
    const from: Pose = { at: ahead, turn: fromRollPitchYaw(0, 90, 0) };
    const to = translate(from, [0, 0, 1000]);
    const error = refused(SET_3, from, to, startAt(SET_3, from));
    expect(error.miss.kind).toBe('wrist-singular');
    expect(error.miss.kind === 'wrist-singular' && error.miss.degrees).toBeCloseTo(2, 3);
    const before = translate(from, [0, 0, 1000 * (error.atFraction - 1e-4)]);
    expect(followStraight(SET_3, from, before, startAt(SET_3, from), 10).ok).toBe(true);
  });

  it('refuses to pass over axis 1, where joint 1 would have to turn at once', () => {
    const [from, to] = [down(-100, 0, 1500), down(100, 0, 1500)];
    const error = refused(SET_1, from, to, startAt(SET_1, from));
    expect(error.atFraction).toBeCloseTo(0.5, 4);
    expect(error.miss).toMatchObject({ kind: 'jump' });
    expect(error.miss.kind === 'jump' && error.miss.degrees).toBeCloseTo(180, 3);
  });

  it('refuses a start that is somewhere else, out of limits or out of reach', () => {
    const [from, to] = [down(1200, 300, 900), down(1200, 300, 500)];
    const start = startAt(SET_3, from);
    const off = start.map((value, i) => (i === 0 ? value + radians(3) : value)) as unknown as Joints;
    const elsewhere = refused(SET_3, from, to, off);
    expect(elsewhere).toMatchObject({ atFraction: 0, miss: { kind: 'elsewhere', joint: 1 } });
    expect(elsewhere.miss.kind === 'elsewhere' && elsewhere.miss.degrees).toBeCloseTo(3, 6);
    const turned = start.map((value, i) => (i === 0 ? value + 2 * Math.PI : value)) as unknown as Joints;
    expect(refused(SET_3, from, to, turned)).toMatchObject({
      atFraction: 0,
      miss: { kind: 'limit', joint: 1 },
    });
    expect(refused(SET_3, down(5000, 0, 0), to, joints(0, 0, 0, 0, 40, 0))).toMatchObject({
      atFraction: 0,
      miss: { kind: 'distance', side: 'too-far' },
    });
  });

  it("refuses to start with a stretched wrist, whose joints 4 and 6 are anyone's choice", () => {
    const stretched = joints(10, 20, -10, 30, 0, 20);
    const from = forward(SET_3, stretched);
    expect(refused(SET_3, from, translate(from, [0, 0, 50]), stretched)).toMatchObject({
      atFraction: 0,
      miss: { kind: 'wrist-singular', degrees: 0 },
    });
  });

  it('accepts no step that is not positive', () => {
    const pose = down(1200, 300, 900);
    expect(() => followStraight(SET_3, pose, pose, startAt(SET_3, pose), 0)).toThrow(RangeError);
  });
});

import fc from 'fast-check';
import type { Arm, Joints } from '../../src/kinematics/arm.js';
import { shapeAngles, sixOf } from '../../src/kinematics/arm.js';
import { linkPoints } from '../../src/kinematics/forward.js';
import type { Pose } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';

export const radians = (degrees: number): number => (degrees * Math.PI) / 180;

type Lengths = Pick<Arm, 'a1' | 'a2' | 'b' | 'c1' | 'c2' | 'c3' | 'c4'>;

function armOf(lengths: Lengths, offsets: readonly number[], signs: readonly number[]): Arm {
  return {
    ...lengths,
    offsets: sixOf((i) => radians(offsets[i]!)),
    signs: sixOf((i) => (signs[i] === -1 ? -1 : 1)),
    limits: sixOf(() => [radians(-200), radians(200)] as const),
    speeds: sixOf(() => 2),
    accelerations: sixOf(() => 4),
  };
}

const PLAIN = [1, 1, 1, 1, 1, 1];

/** Sets 1 to 4: shapes of the rs-opw-kinematics test cases, commit fb51d85. Lengths in mm. */
export const SET_1 = armOf(
  { a1: 100, a2: -135, b: 0, c1: 615, c2: 705, c3: 755, c4: 85 },
  [0, 0, -90, 0, 0, 0],
  PLAIN,
);
export const SET_2 = armOf(
  { a1: 25, a2: -35, b: 0, c1: 400, c2: 315, c3: 365, c4: 80 },
  [0, -90, 0, 0, 0, 0],
  [-1, 1, 1, -1, 1, -1],
);
export const SET_3 = armOf(
  { a1: 175, a2: -175, b: 0, c1: 495, c2: 1095, c3: 1230.5, c4: 85 },
  [0, 0, -90, 0, 0, 0],
  PLAIN,
);
export const SET_4 = armOf(
  { a1: 0, a2: 0, b: 35, c1: 320, c2: 225, c3: 225, c4: 65 },
  [0, 0, -90, 0, 0, 0],
  PLAIN,
);

/** Our own: every length, offset and sign at work at once, and limits beyond one turn. */
export const SKEWED: Arm = {
  ...armOf(
    { a1: 150, a2: 60, b: -80, c1: 450, c2: 600, c3: 640, c4: 110 },
    [20, -90, 10, 30, -15, 45],
    [1, -1, 1, -1, -1, 1],
  ),
  limits: sixOf((i) => [radians(-185 - 40 * i), radians(185 + 45 * i)] as const),
};

export const joints = (...degrees: readonly number[]): Joints => sixOf((i) => radians(degrees[i]!));

/** A pose from a position in metres and a quaternion x, y, z, w, as the published cases give them. */
export function publishedPose(metres: Vec3, [x, y, z, w]: readonly [number, number, number, number]): Pose {
  return {
    at: [metres[0] * 1000, metres[1] * 1000, metres[2] * 1000],
    turn: [
      1 - 2 * (y * y + z * z),
      2 * (x * y - z * w),
      2 * (x * z + y * w),
      2 * (x * y + z * w),
      1 - 2 * (x * x + z * z),
      2 * (y * z - x * w),
      2 * (x * z - y * w),
      2 * (y * z + x * w),
      1 - 2 * (x * x + y * y),
    ],
  };
}

/** Published cases: rs-opw-kinematics, commit fb51d85. */
export const CASE_1 = publishedPose(
  [-0.2345211795210265, -0.2581998270859768, 0.5099117914692322],
  [0.4540975138622626, 0.6507335359436721, 0.5996018777545107, -0.1040139476013804],
);
export const CASE_2A = publishedPose(
  [0.07565099601195059, 0.5575736330449641, 0.1178882891250586],
  [-0.3665459409396786, -0.03925092185870406, -0.03129571915410764, 0.9290446793758171],
);
export const CASE_2B = publishedPose(
  [0.4008533701870718, -0.184927794365021, 0.7114398763051912],
  [0.04862268536899123, -0.6011972511288094, 0.7889560157268662, -0.1172437842747335],
);

/** Largest difference of two poses: mm of position and unitless entries of the turn together. */
export const poseDifference = (a: Pose, b: Pose): number =>
  Math.max(
    ...a.at.map((value, i) => Math.abs(value - b.at[i]!)),
    ...a.turn.map((value, i) => Math.abs(value - b.turn[i]!)),
  );

/** Largest difference of two sets of joints, whole turns aside, radians. */
export const jointDifference = (a: Joints, b: Joints): number =>
  Math.max(...a.map((value, i) => Math.abs(Math.asin(Math.sin((value - b[i]!) / 2)) * 2)));

/** The arm with joints 1 to 3 allowed `degrees` to each side of a posture: only its own branch is left. */
export const heldNear = (arm: Arm, posture: Joints, degrees: number): Arm => ({
  ...arm,
  limits: sixOf((i) =>
    i < 3
      ? ([posture[i]! - radians(degrees), posture[i]! + radians(degrees)] as const)
      : ([radians(-350), radians(350)] as const),
  ),
});

/** Numbers in a range: evenly spread ones, and those a plain double arbitrary likes (zero, tiny, the ends). */
export const between = (low: number, high: number): fc.Arbitrary<number> =>
  fc.oneof(
    {
      weight: 4,
      arbitrary: fc.integer({ min: 0, max: 2 ** 30 }).map((n) => low + (n / 2 ** 30) * (high - low)),
    },
    { weight: 1, arbitrary: fc.double({ min: low, max: high, noNaN: true }) },
  );

/** Far enough from the places where branches meet, so that the joints are well determined. */
export function wellPosed(arm: Arm, taken: Joints): boolean {
  const [, , third, , fifth] = shapeAngles(arm, taken);
  const bend = third + Math.atan2(arm.a2, arm.c3);
  const { wrist } = linkPoints(arm, taken);
  const ahead = wrist[0] * wrist[0] + wrist[1] * wrist[1] - arm.b * arm.b;
  return Math.abs(Math.sin(bend)) > 1e-3 && Math.abs(Math.sin(fifth)) > 1e-3 && ahead > 100;
}

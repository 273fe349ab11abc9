import { rounded, snap } from '../base/order.js';
import { seededRandom } from '../base/random.js';
import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose, Rotation } from '../geometry/pose.js';
import { axisX, axisZ, multiply, rotate, transpose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { dot, scale, subtract } from '../geometry/vector.js';
import type { Arm, Six } from './arm.js';
import { sixOf, toDegrees } from './arm.js';
import type { Line } from './axis-lines.js';
import { zeroPose } from './axis-lines.js';
import { turnY, turnZ } from './axis-turns.js';
import { shapeMissOfAxes, type ShapeMiss, SHAPE_TOLERANCE, wristOf } from './axis-pattern.js';
import { forward } from './forward.js';
import { chainFlange, type JointChain } from './joint-chain.js';
import { axisAngle } from './straight-path.js';

/** The shape of an arm: its lengths (mm), offsets (radians) and signs. */
export type ArmShape = Pick<Arm, 'a1' | 'a2' | 'b' | 'c1' | 'c2' | 'c3' | 'c4' | 'offsets' | 'signs'>;

/** Sets of joints at which a recognised arm is compared with its chain, drawn with this seed. */
const PROOF = { sets: 64, seed: 4 } as const;

/**
 * The lengths, offsets and signs of the arm that a chain of six turning joints is, base frame and flange frame taken as
 * they are: a base turned about axis 1 is an offset of joint 1, a flange turned about axis 6 one of joint 6. They are
 * read off the axes with all joints at zero, and accepted when the arm then takes the same flange poses as the chain at
 * 64 sets of joints. Lengths are rounded to 1e-6 mm and offsets to 1e-6 degrees.
 *
 * Fails with the first way in which the chain is not an ortho-parallel arm with a spherical wrist (tolerance 0.1 mm and
 * 0.05 degrees, our choice: well above the rounding of a file, below what a weld would notice).
 */
export function recogniseArm(chain: JointChain): Result<ArmShape, ShapeMiss> {
  const { axes, flange } = zeroPose(chain);
  const miss = shapeMissOfAxes(axes, flange);
  if (miss !== undefined) return fail(miss);
  const shape = shapeOf(axes, flange);
  const off = largestDifference(chain, shape);
  return off === undefined ? ok(shape) : fail(off);
}

function shapeOf(axes: Six<Line>, flange: Pose): ArmShape {
  const first = firstAngle(axes[1]);
  const plane = (v: Vec3): Vec3 => rotate(transpose(turnZ(first)), v);
  const [second, third] = [plane(axes[1].point), plane(axes[2].point)];
  const wrist = plane(wristOf(axes).at);
  const upper = subtract(third, second);
  const lean = Math.atan2(upper[0], upper[2]);

  const out: Vec3 = [wrist[0] - third[0], 0, wrist[2] - third[2]];
  const fourth = plane(axes[3].way);
  const sign4 = snap(dot(out, fourth), 1e-6) < 0 ? -1 : 1;
  const along4 = scale(fourth, sign4);
  const swing = Math.atan2(along4[0], along4[2]);
  const forearm = turnY(swing);

  const inForearm = (v: Vec3): Vec3 => rotate(transpose(forearm), plane(v));
  const fifth = inForearm(axes[4].way);
  const [roll, sign5] = lesserTurn(Math.atan2(-fifth[0], fifth[1]));
  const tip = rotate(transpose(turnZ(roll)), inForearm(axisZ(flange.turn)));
  const bend = Math.atan2(tip[0], tip[2]);
  const hand = multiply(multiply(turnZ(first), forearm), multiply(turnZ(roll), turnY(bend)));
  const spin = aboutZ(multiply(transpose(hand), flange.turn));

  const angles = [first, lean, swing - lean, roll, bend, spin];
  const sign = (a: number): 1 | -1 => (a < 0 ? -1 : 1);
  return {
    a1: length6(second[0]),
    a2: length6(dot(out, axisX(forearm))),
    b: length6(wrist[1]),
    c1: length6(second[2]),
    c2: length6(Math.hypot(upper[0], upper[2])),
    c3: length6(dot(out, along4)),
    c4: length6(dot(subtract(flange.at, wristOf(axes).at), axisZ(flange.turn))),
    offsets: sixOf((i) => offsetOf(angles[i]!)),
    signs: [
      sign(axes[0].way[2]),
      sign(plane(axes[1].way)[1]),
      sign(plane(axes[2].way)[1]),
      sign4,
      sign5,
      sign(dot(axes[5].way, axisZ(flange.turn))),
    ],
  };
}

/** Shape angle 1 that brings axis 2 along y. Of its two values the one with axis 2 ahead of axis 1, else the lesser turn. */
function firstAngle({ point, way }: Line): number {
  const angle = Math.atan2(-way[0], way[1]);
  const ahead = snap(rotate(transpose(turnZ(angle)), point)[0], SHAPE_TOLERANCE.mm);
  if (ahead > 0) return angle;
  return ahead < 0 ? opposite(angle) : lesserTurn(angle)[0];
}

const opposite = (angle: number): number => (angle > 0 ? angle - Math.PI : angle + Math.PI);

/** The angle itself, or half a turn from it with the sign of its axis changed, whichever is the lesser turn. */
const lesserTurn = (angle: number): readonly [number, 1 | -1] =>
  snap(Math.abs(angle) - Math.PI / 2, 1e-6) > 0 ? [opposite(angle), -1] : [angle, 1];

const aboutZ = (r: Rotation): number => Math.atan2(r[3], r[0]);

const length6 = (mm: number): number => rounded(mm, 6);

/** The offset is the shape angle at zero with the other sign; radians of degrees with six decimals, -180 to 180. */
function offsetOf(angle: number): number {
  const turns = angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
  const degrees = rounded(toDegrees(-turns), 6);
  return ((degrees === -180 ? 180 : degrees) * Math.PI) / 180;
}

/** By how much arm and chain differ at worst, when it is too much. */
function largestDifference(chain: JointChain, shape: ArmShape): ShapeMiss | undefined {
  const random = seededRandom(PROOF.seed);
  const arm: Arm = {
    ...shape,
    limits: sixOf(() => [-Math.PI, Math.PI] as const),
    speeds: sixOf(() => 1),
    accelerations: sixOf(() => 1),
  };
  let [mm, degrees] = [0, 0];
  for (let i = 0; i < PROOF.sets; i += 1) {
    const joints = sixOf(() => (2 * random() - 1) * Math.PI);
    const [a, b] = [chainFlange(chain, joints), forward(arm, joints)];
    mm = Math.max(mm, Math.hypot(...subtract(a.at, b.at)));
    degrees = Math.max(degrees, toDegrees(axisAngle(multiply(transpose(a.turn), b.turn)).angle));
  }
  if (mm <= SHAPE_TOLERANCE.mm && degrees <= SHAPE_TOLERANCE.degrees) return undefined;
  const turned = mm <= SHAPE_TOLERANCE.mm;
  return {
    before: `the seven lengths do not give the same arm: its flange is ${turned ? 'turned' : 'off'} by`,
    value: turned ? degrees : mm,
    unit: turned ? 'deg' : 'mm',
    after: '',
    needs: 'give frames with more decimals, or the lengths themselves',
  };
}

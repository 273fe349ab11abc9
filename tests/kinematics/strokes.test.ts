import { describe, expect, it } from 'vitest';
import { fromRollPitchYaw, multiply, turnAbout, type Pose } from '../../src/geometry/pose.js';
import { sixOf, toDegrees, type Arm } from '../../src/kinematics/arm.js';
import { forward } from '../../src/kinematics/forward.js';
import { reach } from '../../src/kinematics/reach.js';
import { strokes } from '../../src/kinematics/strokes.js';
import { heldNear, joints, poseDifference, radians, SET_3 } from './published-arms.js';

/** Only one branch is left, the flipped wrist barred by joint 4, and joint 6 may turn from `low` to `high` degrees. */
const withSixth = (posture: ReturnType<typeof joints>, low: number, high: number): Arm => {
  const held = heldNear(SET_3, posture, 10);
  const range = (i: number): readonly [number, number] => {
    if (i === 3) return [radians(-90), radians(90)];
    return i === 5 ? [radians(low), radians(high)] : held.limits[i]!;
  };
  return { ...held, limits: sixOf(range) };
};

const START = joints(0, 20, -10, 0, 60, 172);
/** The flange turned about its own axis by some degrees on the spot. */
const turned = ({ at, turn }: Pose, degrees: number): Pose => ({
  at,
  turn: multiply(turn, turnAbout([0, 0, 1], radians(degrees))),
});

describe('strokes of an arm with a joint of more than a turn', () => {
  const pose = forward(SET_3, START);
  const wanted = turned(pose, 90);

  it('begin a whole turn away where the best margin runs into a limit', () => {
    // At 172 degrees joint 6 has 18 to its limit at 190, and at -188 only 2: but 90 more fit only from -188.
    const arm = withSixth(START, -190, 190);
    const best = reach(arm, pose);
    expect(best.ok && toDegrees(best.value[0]!.joints[5])).toBeCloseTo(172, 6);
    const found = strokes(arm, pose, [wanted]);
    if (!found.ok) throw new Error(JSON.stringify(found.error));
    expect(toDegrees(found.value.joints[5])).toBeCloseTo(-188, 6);
    expect(toDegrees(found.value.ends[0]![5])).toBeCloseTo(-98, 6);
    expect(toDegrees(found.value.margin)).toBeCloseTo(2, 6);
    expect(poseDifference(forward(arm, found.value.ends[0]!), wanted)).toBeLessThan(1e-6);
  });

  it('keep the best margin where it will do', () => {
    const found = strokes(withSixth(START, -190, 190), pose, [turned(pose, 10)]);
    expect(found.ok && toDegrees(found.value.joints[5])).toBeCloseTo(172, 6);
  });

  it('fail by the joint and its limit where no turn will do', () => {
    const found = strokes(withSixth(START, -187, 190), pose, [wanted]);
    expect(found).toMatchObject({ ok: false, error: { end: 0, miss: { kind: 'limit', joint: 6 } } });
  });

  it('fail by what the far pose lacks when that is out of reach as a whole', () => {
    const far: Pose = { at: [4000, 0, 500], turn: fromRollPitchYaw(180, 0, 0) };
    const found = strokes(withSixth(START, -190, 190), pose, [far]);
    expect(found).toMatchObject({
      ok: false,
      error: { end: 0, miss: { kind: 'distance', side: 'too-far' } },
    });
  });
});

import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { NO_TURN, turnAbout, type Pose } from '../../src/geometry/pose.js';
import { unit, type Vec3 } from '../../src/geometry/vector.js';
import { sixOf, type Arm, type Joints } from '../../src/kinematics/arm.js';
import { forward } from '../../src/kinematics/forward.js';
import { chainFlange, type JointChain } from '../../src/kinematics/joint-chain.js';
import { recogniseArm } from '../../src/kinematics/recognise-arm.js';
import { chainOfArm } from './chain-of-arm.js';
import {
  between,
  joints,
  poseDifference,
  radians,
  SET_1,
  SET_2,
  SET_3,
  SET_4,
  SKEWED,
} from './published-arms.js';

const PLAIN = Array.from({ length: 6 }, () => NO_TURN);
const STILL = [0, 0, 0, 0, 0, 0];
const six = <T>(make: (i: number) => fc.Arbitrary<T>) =>
  fc.tuple(make(0), make(1), make(2), make(3), make(4), make(5));
const angle = between(-Math.PI, Math.PI);
const part = fc.double({ min: -1, max: 1, noNaN: true });
const anyTurn = fc
  .tuple(part, part, part, angle)
  .map(([x, y, z, by]) => (Math.hypot(x, y, z) < 0.1 ? NO_TURN : turnAbout(unit([x, y, z]), by)));

function recognised(chain: JointChain, arm: Arm): Arm {
  const found = recogniseArm(chain);
  if (!found.ok) throw new Error(JSON.stringify(found.error));
  return { ...arm, ...found.value };
}

describe('the chain of an arm', () => {
  it('takes the poses of the arm', () => {
    for (const arm of [SET_1, SET_2, SET_4, SKEWED])
      for (const values of [joints(0, 0, 0, 0, 0, 0), joints(10, -20, 30, -40, 50, -60)])
        expect(
          poseDifference(chainFlange(chainOfArm(arm, PLAIN, STILL), values), forward(arm, values)),
        ).toBeLessThan(1e-9);
  });
});

describe('recogniseArm', () => {
  it.each([
    ['set 1', SET_1],
    ['set 2', SET_2],
    ['set 3', SET_3],
    ['set 4', SET_4],
  ] as const)('finds lengths, offsets and signs of %s again', (_, arm) => {
    const found = recognised(chainOfArm(arm, PLAIN, STILL), arm);
    for (const name of ['a1', 'a2', 'b', 'c1', 'c2', 'c3', 'c4'] as const)
      expect(found[name]).toBe(arm[name]);
    expect(found.signs).toEqual(arm.signs);
    found.offsets.forEach((offset, i) => expect(offset).toBeCloseTo(arm.offsets[i]!, 12));
  });

  it('takes the same poses as any arm of the kind, whatever frames its joints are given in', () => {
    const anyArm = fc
      .record({
        lengths: six((i) => between(i === 3 || i === 4 ? 200 : -150, i === 3 || i === 4 ? 900 : 400)),
        c4: between(0, 200),
        offsets: six(() => angle),
        signs: six(() => fc.constantFrom<1 | -1>(1, -1)),
      })
      .map(({ lengths: [a1, a2, b, c2, c3, c1], c4, offsets, signs }): Arm => ({
        ...{ a1, a2, b, c1, c2, c3, c4, offsets, signs },
        limits: SET_1.limits,
        speeds: sixOf(() => 2),
        accelerations: sixOf(() => 4),
      }));
    const values = six(() => angle) as fc.Arbitrary<Joints>;
    fc.assert(
      fc.property(
        anyArm,
        six(() => anyTurn),
        six(() => between(-300, 300)),
        values,
        (arm, turns, slides, taken) => {
          const found = recognised(chainOfArm(arm, turns, slides), arm);
          expect(found.a1).toBeGreaterThanOrEqual(-0.1);
          expect(found.c3).toBeGreaterThanOrEqual(0);
          const off = poseDifference(forward(found, taken), forward(arm, taken));
          expect(off).toBeLessThan(1e-3);
        },
      ),
      { seed: 4, numRuns: 500 },
    );
  });
});

describe('recogniseArm refuses', () => {
  const chain = chainOfArm(SET_1, PLAIN, STILL);
  const moved = (joint: number, by: Partial<Pose>): JointChain => ({
    ...chain,
    joints: sixOf((i) =>
      i === joint - 1
        ? { axis: chain.joints[i]!.axis, frame: { ...chain.joints[i]!.frame, ...by } }
        : chain.joints[i]!,
    ),
  });
  const tilted = (joint: number, degrees: number, about: Vec3): JointChain =>
    moved(joint, { turn: turnAbout(about, radians(degrees)) });
  const told = (one: JointChain): string => {
    const found = recogniseArm(one);
    if (found.ok) return 'recognised';
    const { before, value, unit: unitName, after } = found.error;
    return `${before} ${value.toFixed(2)} ${unitName} ${after}`.trim();
  };

  it.each([
    [
      'axis 6 beside the wrist',
      moved(6, { at: [0, 12.4, 0] }),
      'axes 4, 5 and 6 do not meet: axis 6 passes 12.40 mm from the point where 4 and 5 cross',
    ],
    [
      'axis 5 beside axis 4',
      moved(5, { at: [5, 0, 0] }),
      'axes 4, 5 and 6 do not meet: axis 5 passes 5.00 mm from axis 4',
    ],
    [
      'a wrist that is not square',
      tilted(5, 10, [1, 0, 0]),
      'axes 4 and 5 stand at 80.00 deg to each other, not square',
    ],
    ['a tilted axis 3', tilted(3, 2, [0, 0, 1]), 'axes 2 and 3 are 2.00 deg off being parallel'],
    ['a tilted axis 2', tilted(2, 3, [1, 0, 0]), 'axis 2 is tilted 3.00 deg from the level'],
    [
      'a tilted axis 1',
      tilted(1, 4, [1, 0, 0]),
      'axis 1 is tilted 4.00 deg from the z axis of the base link',
    ],
    [
      'axis 1 beside the base',
      moved(1, { at: [30, 40, 0] }),
      'axis 1 passes 50.00 mm beside the origin of the base link',
    ],
    ['axes 2 and 3 in one', moved(3, { at: [0, 0, 0] }), 'axes 2 and 3 lie 0.00 mm apart'],
    [
      'a flange that looks to the side',
      { ...chain, flange: { at: [0, 0, 85], turn: turnAbout([0, 1, 0], Math.PI / 2) } },
      'the z axis of the tip link stands at 90.00 deg to axis 6',
    ],
    [
      'a flange beside axis 6',
      { ...chain, flange: { at: [3, 4, 85], turn: NO_TURN } },
      'the origin of the tip link lies 5.00 mm beside axis 6',
    ],
    [
      'a flange that looks back',
      { ...chain, flange: { at: [0, 0, 85], turn: turnAbout([1, 0, 0], Math.PI) } },
      'the origin of the tip link lies 85.00 mm behind the wrist, as its z axis points',
    ],
  ] as const)('%s', (_, one, words) => {
    expect(told(one)).toBe(words);
  });

  it('an arm whose tilts are each within the tolerance and together are not', () => {
    // 0.045 degrees over 705 and 767 mm are more than 0.1 mm at the flange.
    const words = told(tilted(3, 0.045, [0, 0, 1]));
    expect(words).toMatch(/^the seven lengths do not give the same arm: its flange is off by \d\.\d\d mm$/);
  });

  it('not a chain that is off by less than the tolerances', () => {
    expect(told(moved(6, { at: [0, 0.02, 0] }))).toBe('recognised');
    expect(told(tilted(5, 0.001, [1, 0, 0]))).toBe('recognised');
  });
});

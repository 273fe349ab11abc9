import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromRollPitchYaw, NO_TURN, type Pose } from '../../src/geometry/pose.js';
import type { RoundedHull } from '../../src/geometry/rounded-hull.js';
import { distance, type Vec3 } from '../../src/geometry/vector.js';
import { LINKS, linkCount, motionBounds, type ArmBody } from '../../src/kinematics/arm-body.js';
import { ArmSample, elementsAt } from '../../src/kinematics/arm-sample.js';
import { between } from '../../src/kinematics/clear-path.js';
import { bodyAndMove } from './any-body.js';
import { joints, SET_3 } from './published-arms.js';

const RADII = { column: 150, upperArm: 120, forearm: 100, wrist: 80, dressPack: undefined };
const HERE: Pose = { at: [0, 0, 0], turn: NO_TURN };

const pointsOf = ({ coordinates }: RoundedHull): Vec3[] =>
  Array.from({ length: coordinates.length / 3 }, (_, i) => [
    coordinates[3 * i]!,
    coordinates[3 * i + 1]!,
    coordinates[3 * i + 2]!,
  ]);

const hullsAt = (body: ArmBody, ...taken: readonly number[]): RoundedHull[] =>
  elementsAt(body, joints(...taken)).map(({ hull }) => hull);

function expectPoints(hull: RoundedHull | undefined, wanted: readonly Vec3[]): void {
  const found = pointsOf(hull!);
  expect(found).toHaveLength(wanted.length);
  wanted.forEach((point, i) => expect(distance(found[i]!, point)).toBeLessThan(1e-2));
}

describe('the capsules of an arm', () => {
  // rs-opw-kinematics, commit fb51d85, set 3: the flange is at 1490.5, 0, 1765 with all joints at zero. The bends by
  // hand: shoulder a1 ahead at c1, elbow c2 above it, wrist c3 ahead of that and 175 above, flange c4 farther.
  const bends: Vec3[] = [
    [0, 0, 0],
    [175, 0, 495],
    [175, 0, 1590],
    [1405.5, 0, 1765],
    [1490.5, 0, 1765],
  ];

  it('go from bend to bend of the published arm at zero, each with its radius', () => {
    const hulls = hullsAt({ base: HERE, arm: SET_3, radii: RADII, tool: [] }, 0, 0, 0, 0, 0, 0);
    expect(hulls).toHaveLength(4);
    hulls.forEach((hull, i) => expectPoints(hull, [bends[i]!, bends[i + 1]!]));
    expect(hulls.map(({ radius }) => radius)).toEqual([150, 120, 100, 80]);
  });

  it('end at the published flange with all joints at 45 and at -45 degrees', () => {
    const body: ArmBody = { base: HERE, arm: SET_3, radii: RADII, tool: [] };
    const flangeAt = (angle: number): Vec3 =>
      pointsOf(hullsAt(body, angle, angle, angle, angle, angle, angle)[3]!)[1]!;
    // Published to a hundredth of a millimetre.
    expect(distance(flangeAt(45), [734.88, 794.99, -21.32])).toBeLessThan(0.02);
    expect(distance(flangeAt(-45), [-547.5, 607.6, 2559.89])).toBeLessThan(0.02);
  });

  it('stand where the arm stands, with a dress pack from flange to elbow and the tool before the flange', () => {
    // Turned by a quarter about the vertical: x ahead becomes y.
    const body: ArmBody = {
      base: { at: [100, 200, 300], turn: fromRollPitchYaw(0, 0, 90) },
      arm: SET_3,
      radii: { ...RADII, dressPack: 60 },
      tool: [
        {
          name: 'tip',
          points: [
            [0, 0, 250],
            [10, 0, 200],
          ],
        },
      ],
    };
    const placed = ([x, y, z]: Vec3): Vec3 => [100 - y, 200 + x, 300 + z];
    const hulls = hullsAt(body, 0, 0, 0, 0, 0, 0);
    expect(linkCount(body)).toBe(LINKS.length);
    expectPoints(hulls[4], [placed(bends[4]!), placed(bends[2]!)]);
    expect(hulls[4]!.radius).toBe(60);
    // The flange looks ahead, its x axis down: its turn about y is 90 degrees.
    expectPoints(hulls[5], [placed([1740.5, 0, 1765]), placed([1690.5, 0, 1755])]);
    expect(hulls[5]!.radius).toBe(0);
  });

  it('are the same whatever posture the arm was in before', () => {
    fc.assert(
      fc.property(bodyAndMove, ([body, from, to]) => {
        const sample = new ArmSample(body);
        const wanted = elementsAt(body, to);
        sample.take(from);
        wanted.forEach((_, i) => sample.hull(i));
        sample.take(to);
        wanted.forEach(({ hull }, i) => {
          expect(sample.hull(i).coordinates).toEqual(hull.coordinates);
          expect(sample.hull(i).bounds).toEqual(hull.bounds);
        });
      }),
      { seed: 5, numRuns: 50 },
    );
  });

  it('lie in the balls around them', () => {
    fc.assert(
      fc.property(bodyAndMove, ([body, taken]) => {
        const sample = new ArmSample(body);
        sample.take(taken);
        for (let i = 0; i < sample.count; i += 1) {
          const hull = sample.hull(i);
          const [x, y, z, radius] = sample.ball(i).subarray(4 * i) as unknown as [
            number,
            number,
            number,
            number,
          ];
          for (const point of pointsOf(hull))
            expect(distance(point, [x, y, z]) + hull.radius).toBeLessThanOrEqual(radius + 1e-6);
        }
      }),
      { seed: 4, numRuns: 200 },
    );
  });
});

describe('the bounds of a move', () => {
  it('are never exceeded by any element between any two shares of a joint move, coupled or not', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const seen = { coupled: 0, packs: 0 };
    fc.assert(
      fc.property(bodyAndMove, share, share, ([body, from, to], s, t) => {
        if (body.arm.coupled === true) seen.coupled += 1;
        if (body.radii.dressPack !== undefined) seen.packs += 1;
        const bounds = motionBounds(body, from, to);
        const [one, other] = [s, t].map((at) => elementsAt(body, between(from, to, at)));
        expect(bounds).toHaveLength(one!.length);
        bounds.forEach((bound, i) => {
          const [a, b] = [pointsOf(one![i]!.hull), pointsOf(other![i]!.hull)];
          for (const [k, point] of a.entries())
            expect(distance(point, b[k]!)).toBeLessThanOrEqual(bound * Math.abs(s - t) + 1e-6);
        });
      }),
      { seed: 4, numRuns: 3000 },
    );
    expect(Math.min(seen.coupled, seen.packs)).toBeGreaterThan(500);
  });

  it('are the angle times the lever for one joint that turns a stretched arm', () => {
    // Set 3 without its offset of the forearm, stretched level by q2 = 90 and q3 = -90 degrees.
    const body: ArmBody = { base: HERE, arm: { ...SET_3, a2: 0 }, radii: RADII, tool: [] };
    const at = (first: number) => joints(first, 90, -90, 0, 0, 0);
    const angle = Math.PI / 180;
    const [column, upperArm, forearm, wrist] = motionBounds(body, at(10), at(11));
    expect(column).toBeCloseTo(175 * angle, 9);
    expect(upperArm).toBeCloseTo((175 + 1095) * angle, 9);
    expect(forearm).toBeCloseTo((175 + 1095 + 1230.5) * angle, 9);
    expect(wrist).toBeCloseTo((175 + 1095 + 1230.5 + 85) * angle, 9);
    const [a, b] = [at(10), at(11)].map((taken) => pointsOf(elementsAt(body, taken)[3]!.hull)[1]!);
    const chord = distance(a!, b!);
    expect(wrist!).toBeGreaterThanOrEqual(chord);
    expect(wrist! - chord).toBeLessThan(0.01);
  });
});

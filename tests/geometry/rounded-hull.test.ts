import RAPIER from '@dimforge/rapier3d-compat';
import { beforeAll, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base/random.js';
import { boxPiece } from '../../src/geometry/convex.js';
import { fromRollPitchYaw, place, type Pose } from '../../src/geometry/pose.js';
import { apartness, hullDistance, type RoundedHull } from '../../src/geometry/rounded-hull.js';
import { capsule, placedHull } from '../support/rounded-hulls.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { axisAngle } from '../../src/kinematics/straight-path.js';

/**
 * The independent library works in single precision: coordinates of some metres are good to 0.0002 mm. Its search for
 * the nearest points ends early, at up to a few thousandths of the distance too much, so its points are only where we
 * begin: its projections of points onto shapes are exact but for rounding, and projecting to and fro comes to the nearest
 * pair of points of two convex sets (Cheney and Goldstein 1959), slowly where edges are nearly parallel. Over the cases
 * below the two then differ by less than 0.001 mm; 0.01 mm is allowed, a thousandth of the usual clearance.
 */
const SINGLE_PRECISION = 0.01;
/** Most end within tens. */
const MOST_ROUNDS = 3000;
/** It is made for lengths of about one, so it is given metres. */
const METRE = 1000;

beforeAll(async () => {
  await RAPIER.init();
});

/** A convex thing as this project has it, and as the library has it. */
interface Twin {
  readonly own: RoundedHull;
  readonly shape: RAPIER.Shape;
  readonly at: RAPIER.Vector;
  readonly turn: RAPIER.Rotation;
}

function quaternion({ turn }: Pose): RAPIER.Rotation {
  const { axis, angle } = axisAngle(turn);
  const [s, w] = [Math.sin(angle / 2), Math.cos(angle / 2)];
  return { x: axis[0] * s, y: axis[1] * s, z: axis[2] * s, w };
}

const inMetres = ([x, y, z]: Vec3): RAPIER.Vector => ({ x: x / METRE, y: y / METRE, z: z / METRE });

function boxTwin(half: Vec3, pose: Pose): Twin {
  const { x, y, z } = inMetres(half);
  return {
    own: placedHull(boxPiece(half).vertices, 0, pose),
    shape: new RAPIER.Cuboid(x, y, z),
    at: inMetres(pose.at),
    turn: quaternion(pose),
  };
}

/** The library's capsules lie along y. */
function capsuleTwin(halfLength: number, radius: number, pose: Pose): Twin {
  return {
    own: capsule(place(pose, [0, -halfLength, 0]), place(pose, [0, halfLength, 0]), radius),
    shape: new RAPIER.Capsule(halfLength / METRE, radius / METRE),
    at: inMetres(pose.at),
    turn: quaternion(pose),
  };
}

/** Millimetres; 0 when they touch or overlap. */
function distanceByLibrary(a: Twin, b: Twin): number {
  const far = 100;
  const contact = a.shape.contactShape(a.at, a.turn, b.shape, b.at, b.turn, far);
  if (contact === null) return Infinity;
  if (contact.distance <= 0) return 0;
  let [onA, onB] = [contact.point1, contact.point2];
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const before = onA;
    onB = b.shape.projectPoint(b.at, b.turn, onA, true).point;
    onA = a.shape.projectPoint(a.at, a.turn, onB, true).point;
    if (onA.x === before.x && onA.y === before.y && onA.z === before.z) break;
  }
  return Math.hypot(onA.x - onB.x, onA.y - onB.y, onA.z - onB.z) * METRE;
}

/** Sizes of links and of parts, at places in a cell; the less they are spread, the nearer they come. */
function samples(seed: number, spread: number) {
  const random = seededRandom(seed);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const pose = (): Pose => ({
    at: [between(-spread, spread), between(-spread, spread), between(-spread, spread)],
    turn: fromRollPitchYaw(between(-180, 180), between(-90, 90), between(-180, 180)),
  });
  return {
    box: (): Twin => boxTwin([between(5, 600), between(5, 600), between(5, 600)], pose()),
    capsule: (): Twin => capsuleTwin(between(20, 700), between(30, 150), pose()),
  };
}

const CASES = 400;

describe('the distance of two rounded hulls', () => {
  it.each([
    ['capsule', 'box', 1500],
    ['capsule', 'capsule', 1500],
    ['box', 'box', 1500],
    ['capsule', 'box', 400],
    ['capsule', 'capsule', 400],
    ['box', 'box', 600],
  ] as const)('is what an independent library finds: %s and %s, spread by %d mm', (one, other, spread) => {
    const make = samples(20261125, spread);
    let apart = 0;
    for (let i = 0; i < CASES; i += 1) {
      const [a, b] = [make[one](), make[other]()];
      const [own, library] = [hullDistance(a.own, b.own), distanceByLibrary(a, b)];
      expect(Math.abs(own - library), `case ${i}: ${own} and ${library}`).toBeLessThan(SINGLE_PRECISION);
      if (own > 0) apart += 1;
    }
    expect(apart).toBeGreaterThan(CASES / 4);
    expect(apart).toBeLessThan(CASES);
  });

  it('is that of the lines less the radii for capsules side by side, crossed, and end to end', () => {
    const along = capsule([0, 0, 0], [400, 0, 0], 50);
    expect(hullDistance(along, capsule([100, 200, 0], [500, 200, 0], 40))).toBeCloseTo(110, 9);
    expect(hullDistance(along, capsule([200, -300, 175], [200, 300, 175], 60))).toBeCloseTo(65, 9);
    expect(hullDistance(along, capsule([700, 0, 0], [900, 0, 0], 80))).toBeCloseTo(170, 9);
    expect(hullDistance(along, capsule([430, 40, 0], [900, 40, 0], 1))).toBe(0);
  });

  it('answers whether things are far enough apart by boxes or by the distance', () => {
    const one = capsule([0, 0, 0], [300, 300, 0], 20);
    const other = capsule([100, 0, 0], [400, 300, 0], 20);
    const between = 100 / Math.SQRT2 - 40;
    expect(apartness(one, other, 1, between - 1e-6).kind).toBe('apart');
    expect(apartness(one, other, 1, between + 1e-6).kind).toBe('between');
    expect(apartness(one, other, between + 1e-6, between + 1).kind).toBe('near');
    expect(apartness(one, capsule([0, 0, 500], [300, 0, 500], 20), 1, 460).kind).toBe('apart');
  });
});

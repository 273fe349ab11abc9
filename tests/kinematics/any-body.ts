import fc from 'fast-check';
import { boxPiece } from '../../src/geometry/convex.js';
import { fromRollPitchYaw, place, type Pose } from '../../src/geometry/pose.js';
import type { RoundedHull } from '../../src/geometry/rounded-hull.js';
import { placedHull } from '../support/rounded-hulls.js';
import { add, type Vec3 } from '../../src/geometry/vector.js';
import type { Arm, Joints } from '../../src/kinematics/arm.js';
import type { ArmBody, ToolPiece } from '../../src/kinematics/arm-body.js';
import { anyArm, jointsOf } from './any-arm.js';
import { between } from './published-arms.js';

const point = (spread: number): fc.Arbitrary<Vec3> =>
  fc.tuple(between(-spread, spread), between(-spread, spread), between(-spread, spread));

const pose = (spread: number): fc.Arbitrary<Pose> =>
  fc
    .tuple(point(spread), between(-180, 180), between(-90, 90), between(-180, 180))
    .map(([at, roll, pitch, yaw]) => ({ at, turn: fromRollPitchYaw(roll, pitch, yaw) }));

const half = between(10, 250).chain((x) => fc.tuple(fc.constant(x), between(10, 250), between(10, 250)));

/** A box anywhere about the flange. */
const tool: fc.Arbitrary<ToolPiece> = fc.tuple(half, pose(300)).map(([size, at]) => ({
  name: 'tool',
  points: boxPiece(size).vertices.map((corner) => place(at, corner)),
}));

const bodyOf = (arm: Arm): fc.Arbitrary<ArmBody> =>
  fc.record({
    base: pose(1000),
    arm: fc.constant(arm),
    radii: fc.record({
      column: between(50, 200),
      upperArm: between(40, 150),
      forearm: between(40, 120),
      wrist: between(30, 90),
      dressPack: fc.option(between(20, 150), { nil: undefined }),
    }),
    tool: fc.array(tool, { maxLength: 2 }),
  });

/** An arm of any shape that stands anywhere with some boxes at its flange, and two postures of it. */
export const bodyAndMove: fc.Arbitrary<readonly [ArmBody, Joints, Joints]> = anyArm.chain((arm) =>
  fc.tuple(bodyOf(arm), jointsOf(arm), jointsOf(arm)),
);

/** A box about so far from where something is, turned anyhow. */
export const boxNear = fc
  .tuple(half, pose(500))
  .map(([size, { at, turn }]) => (middle: Vec3): RoundedHull => {
    const where = { at: add(middle, at), turn };
    return placedHull(boxPiece(size).vertices, 0, where);
  });

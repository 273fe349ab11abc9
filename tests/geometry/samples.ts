import fc from 'fast-check';
import type { ConvexPiece } from '../../src/geometry/convex.js';
import { boxPiece, frustumPiece, prismPiece } from '../../src/geometry/convex.js';
import type { Pose } from '../../src/geometry/pose.js';
import { fromRollPitchYaw, NO_TURN } from '../../src/geometry/pose.js';
import { block, plate, rectangularHollowSection } from '../../src/geometry/shapes.js';
import type { Solid } from '../../src/geometry/solid.js';
import { placeSolid } from '../../src/geometry/solid.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { length, scale } from '../../src/geometry/vector.js';

/** Fixed seed, so that a run repeats exactly. */
export const RUNS = { seed: 20250711, numRuns: 300 };

export const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

export const vector = (size: number): fc.Arbitrary<Vec3> =>
  fc.tuple(number(-size, size), number(-size, size), number(-size, size));

export const direction: fc.Arbitrary<Vec3> = vector(1)
  .filter((v) => length(v) > 0.1)
  .map((v) => scale(v, 1 / length(v)));

export const pose = (size: number): fc.Arbitrary<Pose> =>
  fc
    .tuple(vector(size), number(-180, 180), number(-90, 90), number(-180, 180))
    .map(([at, roll, pitch, yaw]) => ({ at, turn: fromRollPitchYaw(roll, pitch, yaw) }));

const size = number(10, 200);

export const piece: fc.Arbitrary<ConvexPiece> = fc.oneof(
  fc.tuple(size, size, size).map((half) => boxPiece(half)),
  fc.tuple(size, size, size).map(([a, b, z]) =>
    prismPiece(
      [
        [0, 0],
        [a, 0],
        [a / 3, b],
      ],
      0,
      z,
    ),
  ),
  fc
    .tuple(size, size, size, fc.integer({ min: 3, max: 12 }))
    .map(([r0, r1, z, sides]) => frustumPiece(r0, 0, r1, z, sides)),
  fc.tuple(size, size).map(([r, z]) => frustumPiece(r, 0, 0, z, 8)),
);

export const solid: fc.Arbitrary<Solid> = fc.oneof(
  fc.tuple(size, size, size).map(([x, y, z]) => block(x, y, z)),
  fc.tuple(size, size, number(3, 20)).map(([x, y, z]) => plate(x, y, z)),
  fc
    .tuple(size, number(40, 120), number(40, 120), number(2, 10))
    .map(([x, y, z, wall]) => rectangularHollowSection(x, y, z, wall)),
);

export const placedSolid = (reach: number): fc.Arbitrary<Solid> =>
  fc.tuple(solid, pose(reach)).map(([shape, at]) => placeSolid(shape, at));

/** A pose that does not turn. */
export const at = (x: number, y: number, z: number): Pose => ({ at: [x, y, z], turn: NO_TURN });

export const atTurned = (
  x: number,
  y: number,
  z: number,
  roll: number,
  pitch: number,
  yaw: number,
): Pose => ({
  at: [x, y, z],
  turn: fromRollPitchYaw(roll, pitch, yaw),
});

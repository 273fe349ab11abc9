import fc from 'fast-check';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { Disturbance, System } from '../../src/mechanics/system.js';
import { bearingOf, bodyAt, linkAt, padAt, rectangle, systemOf } from './scenes.js';

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

const whole = (min: number, max: number) => fc.integer({ min, max });

/** Two or three blocks on the floor, on each other or only against each other's sides, tacked, clamped and held at random, under two or three forces. */
export const assembly = fc.record({
  blocks: fc.array(
    fc.record({
      place: fc.constantFrom('on', 'beside', 'against'),
      shift: whole(-60, 60),
      mass: whole(1, 9),
      friction: whole(0, 6),
      clamp: whole(0, 2),
    }),
    { minLength: 2, maxLength: 3 },
  ),
  tacks: fc.array(
    fc.record({
      a: whole(-1, 2),
      b: whole(0, 2),
      x: whole(-60, 260),
      axis: whole(0, 2),
      strength: whole(50, 900),
    }),
    { maxLength: 3 },
  ),
  pad: fc.option(
    fc.record({ body: whole(0, 2), side: fc.boolean(), pull: whole(20, 300), force: whole(40, 400) }),
  ),
  loads: fc.array(
    fc.record({
      body: whole(0, 2),
      force: fc.tuple(whole(-30, 30), whole(-30, 30), whole(-30, 30)),
      up: whole(-50, 50),
    }),
    { minLength: 2, maxLength: 3 },
  ),
});

export type Assembly = typeof assembly extends fc.Arbitrary<infer T> ? T : never;

/** The system of a random assembly, and the forces on it. */
export function systemFrom({ blocks, tacks, pad, loads }: Assembly): {
  system: System;
  disturbances: Disturbance[];
} {
  const count = blocks.length;
  const centres: Vec3[] = [];
  const bearings = blocks.map(({ place, shift, friction, clamp }, b) => {
    const [x, , z] = centres[b - 1] ?? [0, 0, -50];
    const kind = b === 0 ? 'on' : place;
    const centre: Vec3 =
      kind === 'on' ? [x + shift, 0, z + 100] : kind === 'beside' ? [x + 150, 0, 50] : [x + 100, 0, z];
    centres.push(centre);
    const shared = { b, friction: friction / 10, preload: 30 * clamp };
    if (kind === 'against') {
      const face = [-40, 40].flatMap((y) => [-50, 50].map((up): Vec3 => [x + 50, y, z + up]));
      return bearingOf(face, { ...shared, a: b - 1, normal: [1, 0, 0] });
    }
    const stacked = kind === 'on' && b > 0;
    const low = stacked ? Math.max(centre[0], x) - 50 : centre[0] - 50;
    const high = stacked ? Math.min(centre[0], x) + 50 : centre[0] + 50;
    return bearingOf(rectangle([low, high], [-40, 40], centre[2] - 50), {
      ...shared,
      a: stacked ? b - 1 : -1,
    });
  });
  const system = systemOf({
    bodies: blocks.map(({ mass }, i) => bodyAt(centres[i]!, mass)),
    bearings,
    links: tacks
      .filter(({ a, b }) => a < count && b < count && a !== b)
      .map(({ a, b, x, axis, strength }, i) =>
        linkAt([x, i % 2 === 0 ? 40 : -40, 60], { a, b, strength, along: AXES[axis]! }),
      ),
    ...(pad && pad.body < count
      ? {
          pads: [
            padAt(beside(centres[pad.body]!, pad.side), {
              ...{ body: pad.body, pull: pad.pull, radius: 30 },
              ...(pad.side ? { normal: [0, -1, 0] as const } : {}),
            }),
          ],
          holds: [{ force: pad.force, moment: 40_000, at: [0, 0, 300] as const }],
        }
      : {}),
  });
  const disturbances = loads
    .filter(({ body }) => body < count)
    .map(({ body, force, up }, i) => {
      const [x, y, z] = centres[body]!;
      return { name: `load ${i}`, forces: [{ body, force, at: [x, y, z + up] as const }] };
    });
  return { system, disturbances };
}

const beside = ([x, y, z]: Vec3, side: boolean): Vec3 => (side ? [x, y + 40, z] : [x, y, z + 50]);

import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { dot, type Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import type { Disturbance, System } from '../../src/mechanics/system.js';
import { denseGravity, denseReserve } from './dense-judge.js';
import { bearingOf, bodyAt, linkAt, padAt, rectangle, systemOf } from './scenes.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** How far HiGHS and the dense simplex may differ: reserves as they are, normal forces by their size. */
const TOLERANCE = 1e-5;

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

const whole = (min: number, max: number) => fc.integer({ min, max });

/** Two or three blocks on the floor, on each other or only against each other's sides, tacked, clamped and held at random, under two or three forces. */
const assembly = fc.record({
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

type Assembly = typeof assembly extends fc.Arbitrary<infer T> ? T : never;

function systemFrom({ blocks, tacks, pad, loads }: Assembly): {
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

const sumAlong = (forces: readonly Vec3[], normal: Vec3): number =>
  forces.reduce((sum, force) => sum + dot(force, normal), 0);

describe('whole assemblies against a dense textbook simplex (Bland 1977) on a formulation of its own', () => {
  it('agree on gravity, on the least normal forces and on every disturbance', () => {
    const seen = { stand: 0, fall: 0, inner: 0, held: 0, tacked: 0 };
    let [asked, undecided] = [0, 0];
    const agree = (found: number, witness: number, size = 1): void => {
      asked += 1;
      if (Number.isNaN(witness)) undecided += 1;
      else expect(Math.abs(found - witness)).toBeLessThan(TOLERANCE * size);
    };
    fc.assert(
      fc.property(assembly, (data) => {
        const { system, disturbances } = systemFrom(data);
        const found = judge(programs, system, disturbances, { cold: true, forces: true });
        const expected = denseGravity(system);
        expect(found.gravity.failure).toBeUndefined();
        agree(found.gravity.reserve, expected.factor);
        seen[found.gravity.stands ? 'stand' : 'fall'] += 1;
        if (!found.gravity.stands) return;
        const { forces } = found.gravity;
        const pressed = system.bearings.map(({ normal }, i) => sumAlong(forces!.bearings[i]!, normal));
        const total = pressed.reduce((a, b) => a + b, 0);
        agree(total, expected.least ?? NaN, 1 + total);
        disturbances.forEach((disturbance, i) => {
          const reserve = denseReserve(system, disturbance, pressed)!;
          agree(found.disturbances[i]!.reserve, reserve);
          if (reserve > 0.01 && reserve < 9.99) seen.inner += 1;
        });
        if (system.pads.length > 0) seen.held += 1;
        if (system.links.length > 0) seen.tacked += 1;
      }),
      { numRuns: 100, seed: 51, endOnFailure: true },
    );
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(20);
    expect(asked).toBeGreaterThan(200);
    expect(undecided).toBeLessThan(asked / 20);
  });
});

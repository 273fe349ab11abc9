import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { residuals } from '../../src/mechanics/residuals.js';
import type { Disturbance, System } from '../../src/mechanics/system.js';
import { WEIGHT_OF_ONE, bearingOf, bodyAt, linkAt, padAt, rectangle, systemOf } from './scenes.js';
import type { Bound, Push } from './witness.js';
import { greatestFactor, isFrame, patch, tack } from './witness.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];

const whole = (min: number, max: number) => fc.integer({ min, max });
const force = fc.tuple(whole(-30, 30), whole(-30, 30), whole(-30, 30));

/** Blocks one on top of the other, each shifted a little, and a force somewhere on the upper one. */
const tower = fc.record({
  blocks: fc.array(
    fc.record({ shift: whole(-40, 40), mass: whole(1, 9), half: whole(20, 60), friction: whole(1, 8) }),
    { minLength: 1, maxLength: 2 },
  ),
  force,
  height: whole(0, 100),
});

describe('random towers against a dense formulation of its own', () => {
  it('agree on the reserve of gravity and of a force', () => {
    const seen = { stand: 0, fall: 0, inner: 0 };
    fc.assert(
      fc.property(tower, ({ blocks, force: load, height }) => {
        const top = blocks.length - 1;
        const at: Vec3 = [blocks[top]!.shift, 5, 100 * top + height];
        // The patch is where a block overlaps the one below; the floor is endless.
        const corners = blocks.map(({ shift, half }, i) => {
          const below = blocks[i - 1];
          const [low, high] =
            below === undefined ? [-999, 999] : [below.shift - below.half, below.shift + below.half];
          return rectangle([Math.max(shift - half, low), Math.min(shift + half, high)], [-30, 30], 100 * i);
        });
        fc.pre(corners.every((list) => list[1]![0] - list[0]![0] > 1));
        const system = systemOf({
          bodies: blocks.map(({ shift, mass }, i) => bodyAt([shift, 0, 100 * i + 50], mass)),
          bearings: blocks.map(({ friction }, i) =>
            bearingOf(corners[i]!, { a: i - 1, b: i, friction: friction / 10 }),
          ),
        });
        const weights = blocks.map(({ mass, shift }, on) => ({
          on,
          force: [0, 0, -mass * WEIGHT_OF_ONE] as Vec3,
          at: [shift, 0, 0] as Vec3,
        }));
        const pushes: Push[] = [];
        const bounds: Bound[] = [];
        blocks.forEach(({ friction }, i) => {
          const above = weights.slice(i).reduce((sum, weight) => sum - weight.force[2], 0);
          const more = patch(pushes.length, corners[i]!, [X, Y, Z], friction / 10, above, i, i - 1);
          pushes.push(...more.pushes);
          bounds.push(...more.bounds);
        });
        const standing = greatestFactor(blocks.length, pushes, bounds, [], weights)! >= 1 - 1e-7;
        const expected = greatestFactor(blocks.length, pushes, bounds, weights, [
          { force: load, at, on: top },
        ]);
        const disturbance: Disturbance = { name: 'load', forces: [{ body: top, force: load, at }] };
        const { gravity, disturbances } = judge(programs, system, [disturbance], { cold: true });
        expect(gravity.stands).toBe(standing);
        if (standing) expect(disturbances[0]!.reserve).toBeCloseTo(expected!, 4);
        seen[standing ? 'stand' : 'fall'] += 1;
        if (standing && expected! > 0.01 && expected! < 9.99) seen.inner += 1;
      }),
      { numRuns: 120, seed: 31 },
    );
    expect(seen.fall).toBeGreaterThan(10);
    expect(seen.inner).toBeGreaterThan(30);
  });

  it('agree on random tacked bodies', () => {
    let inner = 0;
    const place = fc.tuple(whole(-90, 90), whole(-90, 90), whole(-90, 90));
    const links = fc.array(fc.record({ place, axis: whole(0, 2), strength: whole(50, 900) }), {
      minLength: 2,
      maxLength: 4,
    });
    fc.assert(
      fc.property(links, force, place, whole(0, 4), (list, load, at, mass) => {
        const axes = [X, Y, Z] as const;
        const system = systemOf({
          bodies: [bodyAt([10, 20, 30], mass)],
          links: list.map(({ place: middle, axis, strength }) =>
            linkAt(middle, { along: axes[axis]!, strength }),
          ),
        });
        const pushes: Push[] = [];
        const bounds: Bound[] = [];
        for (const { place: middle, axis, strength } of list) {
          const points = [-10, 10].map((offset) =>
            middle.map((value, i) => value + (i === axis ? offset : 0)),
          );
          const frame = [X, Y, Z] as const;
          expect(isFrame(frame)).toBe(true);
          const more = tack(pushes.length, points as unknown as Vec3[], frame, strength, 0);
          pushes.push(...more.pushes);
          bounds.push(...more.bounds);
        }
        const weight = { on: 0, force: [0, 0, -mass * WEIGHT_OF_ONE] as Vec3, at: [10, 20, 30] as Vec3 };
        const standing = greatestFactor(1, pushes, bounds, [], [weight])! >= 1 - 1e-7;
        const expected = greatestFactor(1, pushes, bounds, [weight], [{ on: 0, force: load, at }]);
        const disturbance = { name: 'load', forces: [{ body: 0, force: load, at }] };
        const { gravity, disturbances } = judge(programs, system, [disturbance], { cold: true });
        expect(gravity.stands).toBe(standing);
        if (standing) expect(disturbances[0]!.reserve).toBeCloseTo(expected!, 4);
        if (standing && expected! > 0.01 && expected! < 9.99) inner += 1;
      }),
      { numRuns: 120, seed: 32 },
    );
    expect(inner).toBeGreaterThan(30);
  });
});

/** Anything at all: blocks side by side and on each other, tacks, a pad, clamping; most of it statically indeterminate. */
const heap = fc.record({
  blocks: fc.array(
    fc.record({
      x: whole(0, 3),
      z: whole(0, 3),
      mass: whole(1, 9),
      friction: whole(0, 8),
      preload: whole(0, 3),
    }),
    { minLength: 1, maxLength: 6 },
  ),
  tacks: fc.array(
    fc.record({ a: whole(-1, 5), b: whole(0, 5), x: whole(-50, 350), strength: whole(100, 9000) }),
    {
      maxLength: 4,
    },
  ),
  pads: fc.array(fc.record({ body: whole(0, 5), pull: whole(20, 600), friction: whole(1, 4) }), {
    maxLength: 2,
  }),
  loads: fc.array(fc.record({ body: whole(0, 5), force }), { minLength: 1, maxLength: 5 }),
});

type Heap = typeof heap extends fc.Arbitrary<infer T> ? T : never;

function heapSystem({ blocks, tacks, pads, loads }: Heap): { system: System; disturbances: Disturbance[] } {
  const count = blocks.length;
  const centre = (i: number): Vec3 => [100 * blocks[i]!.x, 0, 100 * blocks[i]!.z + 50];
  const foot = ({ x, z }: { x: number; z: number }): Vec3[] =>
    rectangle([100 * x - 50, 100 * x + 50], [-40, 40], 100 * z);
  const system = systemOf({
    bodies: blocks.map(({ mass }, i) => bodyAt(centre(i), mass)),
    bearings: blocks.flatMap((block, b) => {
      const shared = { b, friction: block.friction / 10, preload: 20 * block.preload };
      if (block.z === 0) return [bearingOf(foot(block), shared)];
      return blocks.flatMap((below, a) =>
        below.x === block.x && below.z === block.z - 1 ? [bearingOf(foot(block), { ...shared, a })] : [],
      );
    }),
    links: tacks
      .filter(({ a, b }) => a < count && b < count && a !== b)
      .map(({ a, b, x, strength }, i) => linkAt([x, i % 2 === 0 ? 40 : -40, 60], { a, b, strength })),
    pads: pads
      .filter(({ body }) => body < count)
      .map(({ body, pull, friction }) => {
        const [x, y, z] = centre(body);
        return padAt([x, y, z + 50], { body, pull, friction: friction / 10 });
      }),
    holds: [{ force: 400, moment: 60_000, at: [0, 0, 400] }],
  });
  const disturbances = loads
    .filter(({ body }) => body < count)
    .map(({ body, force: load }, i) => ({
      name: `load ${i}`,
      forces: [{ body, force: load, at: centre(body) }],
    }));
  return { system, disturbances };
}

describe('random heaps', () => {
  it('forces put back into the equations, cones, strengths and limits leave nothing over', () => {
    const seen = { stand: 0, fall: 0 };
    fc.assert(
      fc.property(heap, (data) => {
        const { system, disturbances } = heapSystem(data);
        for (const cold of [true, false]) {
          const found = judge(programs, system, disturbances, { cold, forces: true });
          expect(found.gravity.failure).toBeUndefined();
          expect(residuals(system, found.gravity.forces!).worst).toBeLessThan(1e-6);
          seen[found.gravity.stands ? 'stand' : 'fall'] += 1;
          found.disturbances.forEach((verdict, i) => {
            expect(verdict.failure).toBeUndefined();
            if (!found.gravity.stands) return expect(verdict.forces).toBeUndefined();
            const context = { disturbance: disturbances[i]!, gravityForces: found.gravity.forces! };
            expect(residuals(system, verdict.forces!, context).worst).toBeLessThan(1e-6);
          });
        }
      }),
      { numRuns: 150, seed: 33 },
    );
    expect(Math.min(seen.stand, seen.fall)).toBeGreaterThan(30);
  });

  it('cold judgements repeat bit by bit, warm ones give the same reserves', () => {
    fc.assert(
      fc.property(heap, (data) => {
        const { system, disturbances } = heapSystem(data);
        const cold = judge(programs, system, disturbances, { cold: true, forces: true });
        expect(judge(programs, system, disturbances, { cold: true, forces: true })).toEqual(cold);
        const warm = judge(programs, system, disturbances);
        expect(warm.gravity.reserve).toBe(cold.gravity.reserve);
        warm.disturbances.forEach((verdict, i) => {
          expect(Math.abs(verdict.reserve - cold.disturbances[i]!.reserve)).toBeLessThan(2e-6);
        });
      }),
      { numRuns: 150, seed: 34 },
    );
  });

  it('a further tack never lowers the reserve of gravity, and a weaker pad never raises it', () => {
    fc.assert(
      fc.property(heap, (data) => {
        const { system } = heapSystem(data);
        const { gravity } = judge(programs, system, []);
        const tacked = { ...system, links: [...system.links, linkAt([30, 20, 10])] };
        // Judged with friction that gravity surely presses on in both: a tack may turn "sure" into "perhaps".
        const smooth = (one: System): System => ({
          ...one,
          bearings: one.bearings.map((bearing) => ({ ...bearing, friction: 0 })),
        });
        const before = judge(programs, smooth(system), []).gravity.reserve;
        expect(judge(programs, smooth(tacked), []).gravity.reserve).toBeGreaterThanOrEqual(before - 1e-6);
        const weaker = {
          ...system,
          pads: system.pads.map((pad) => ({ ...pad, pull: pad.pull / 2 })),
          holds: [],
        };
        const limitless = { ...system, holds: [] };
        expect(judge(programs, weaker, []).gravity.reserve).toBeLessThanOrEqual(
          judge(programs, limitless, []).gravity.reserve + 1e-6,
        );
        expect(judge(programs, limitless, []).gravity.reserve).toBeGreaterThanOrEqual(gravity.reserve - 1e-6);
      }),
      { numRuns: 80, seed: 35 },
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { unit, type Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { surelyCarried } from '../../src/mechanics/pads-carry.js';
import { STANDARD_GRAVITY, type Hold, type Pad } from '../../src/mechanics/system.js';

const programs = await loadLinearPrograms();

const direction = fc
  .tuple(...[0, 1, 2].map(() => fc.double({ min: -1, max: 1, noNaN: true })))
  .filter((v) => Math.hypot(...v) > 0.1)
  .map((v) => unit(v as unknown as Vec3));
const offset = fc.double({ min: -60, max: 60, noNaN: true });

/** One to three pads in one plane and a body before them. */
const scene = fc.record({
  normal: direction,
  spots: fc.array(fc.tuple(offset, offset), { minLength: 1, maxLength: 3 }),
  centre: fc.tuple(offset, offset, offset),
  pull: fc.double({ min: 20, max: 400, noNaN: true }),
  friction: fc.double({ min: 0.1, max: 0.5, noNaN: true }),
  radius: fc.double({ min: 8, max: 30, noNaN: true }),
  mass: fc.double({ min: 0.2, max: 12, noNaN: true }),
  moment: fc.double({ min: 2000, max: 60000, noNaN: true }),
});

function padsOf({
  normal,
  spots,
  pull,
  friction,
  radius,
}: {
  normal: Vec3;
  spots: [number, number][];
  pull: number;
  friction: number;
  radius: number;
}): Pad[] {
  const helper: Vec3 = Math.abs(normal[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0];
  const cross = (a: Vec3, b: Vec3): Vec3 => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const u = unit(cross(normal, helper));
  const v = cross(normal, u);
  return spots.map(([a, b]) => ({
    ...{ body: 0, hold: 0, normal, pull, friction, radius },
    at: [0, 1, 2].map((i) => a * u[i]! + b * v[i]!) as unknown as Vec3,
  }));
}

describe('pads that surely carry', () => {
  it('never says so where the equilibrium program does not stand, and says so often enough to be of use', () => {
    let sure = 0;
    let standing = 0;
    fc.assert(
      fc.property(scene, (given) => {
        const pads = padsOf(given);
        const hold: Hold = { force: 400, moment: given.moment, at: [0, 0, 0] };
        const weight: Vec3 = [0, 0, -given.mass * STANDARD_GRAVITY];
        const surely = surelyCarried(pads, hold, weight, given.centre);
        const body = { mass: given.mass, centre: given.centre };
        const { gravity } = judge(
          programs,
          { bodies: [body], bearings: [], links: [], pads, holds: [hold] },
          [],
        );
        if (surely) sure += 1;
        if (gravity.stands) standing += 1;
        expect(surely && !gravity.stands).toBe(false);
      }),
      { seed: 11, numRuns: 400 },
    );
    expect(standing).toBeGreaterThan(40);
    expect(sure).toBeGreaterThan(standing / 4);
  });

  it('a pad pulled straight off carries its pull and no more', () => {
    const pad: Pad = {
      body: 0,
      hold: 0,
      at: [0, 0, 0],
      normal: [0, 0, -1],
      radius: 20,
      pull: 100,
      friction: 0.2,
    };
    const hold: Hold = { force: 1e6, moment: 1e9, at: [0, 0, 0] };
    expect(surelyCarried([pad], hold, [0, 0, -99.9], [0, 0, -10])).toBe(true);
    expect(surelyCarried([pad], hold, [0, 0, -100.1], [0, 0, -10])).toBe(false);
    expect(surelyCarried([pad], { ...hold, force: 50 }, [0, 0, -99.9], [0, 0, -10])).toBe(false);
  });
});

import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { padPoints } from '../../src/mechanics/generators.js';
import { surelyCarried } from '../../src/mechanics/pads-carry.js';
import { residuals } from '../../src/mechanics/residuals.js';
import type { Pad, System } from '../../src/mechanics/system.js';
import { bodyAt, padAt, push, systemOf, twist, WEIGHT_OF_ONE } from './scenes.js';
import { greatestFactor, patch, type Bound, type Push } from './witness.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const FREE = [{ force: Infinity, moment: Infinity, at: [0, 0, 0] as Vec3 }];

/** The two pads of a jaw that closes along x on a body 60 mm broad, its pads `above` mm over the middle of the body. */
function jaw(force: number, { friction = 0.2, radius = 15, above = 0 } = {}): Pad[] {
  const pad = { pull: force, most: force, friction, radius };
  return [
    padAt([-30, 0, above], { ...pad, normal: [1, 0, 0] }),
    padAt([30, 0, above], { ...pad, normal: [-1, 0, 0] }),
  ];
}

const held = (mass: number, pads: readonly Pad[]): System =>
  systemOf({ bodies: [bodyAt([0, 0, 0], mass)], pads, holds: FREE });

const reserves = (system: System, loads: Parameters<typeof judge>[2] = []) => {
  const { gravity, disturbances } = judge(programs, system, loads, { cold: true, forces: true });
  return { gravity, loads: disturbances };
};

// Closed answers, recomputed by hand: Coulomb friction and balance of forces.
describe('a body in a jaw', () => {
  it('slips down at 2 mu F', () => {
    const { gravity } = reserves(held(5, jaw(200)));
    expect(gravity.reserve).toBeCloseTo((2 * 0.2 * 200) / (5 * WEIGHT_OF_ONE), 5);
    expect(gravity.weakest?.kind).toBe('pad');
    expect(reserves(held(5, jaw(200, { friction: 0 }))).gravity.reserve).toBe(0);
  });

  it('resists a load across the jaw of F, and of 2 F less what friction needs for the weight', () => {
    const across = [push([100, 0, 0], [0, 0, 0])];
    // One finger may press with F, the other with nothing: F itself, while its friction alone carries the weight.
    expect(reserves(held(2, jaw(200)), across).loads[0]!.reserve).toBeCloseTo(2, 5);
    // n1 + n2 >= W / mu with n1 - n2 = P and n1 <= F: P <= 2 F - W / mu.
    const weight = 5 * WEIGHT_OF_ONE;
    const { loads } = reserves(held(5, jaw(200)), across);
    expect(loads[0]!.reserve).toBeCloseTo((2 * 200 - weight / 0.2) / 100, 5);
    expect(loads[0]!.weakest?.kind).toBe('pad');
  });

  it('carries no more than F on its lower finger, and rubs with mu (2 F - W) when it lies on its side', () => {
    const pad = { pull: 200, most: 200, friction: 0.2, radius: 15 };
    const system = held(5, [
      padAt([0, 0, -30], { ...pad, normal: [0, 0, 1] }),
      padAt([0, 0, 30], { ...pad, normal: [0, 0, -1] }),
    ]);
    const weight = 5 * WEIGHT_OF_ONE;
    const { gravity, loads } = reserves(system, [push([10, 0, 0], [0, 0, 0])]);
    expect(gravity.reserve).toBeCloseTo(200 / weight, 5);
    expect(loads[0]!.reserve).toBeCloseTo((0.2 * (2 * 200 - weight)) / 10, 5);
  });

  it('spins about the line of its fingers at 2 x 2/3 mu F R, less nothing for a weightless body', () => {
    const turn = twist(100).forces.map(({ body, force, at }) => ({
      body,
      force: [0, 0, force[1]] as Vec3,
      at: [0, at[0], 0] as Vec3,
    }));
    const { loads } = reserves(held(1e-9, jaw(200)), [{ name: 'turn', forces: turn }]);
    expect(loads[0]!.reserve).toBeCloseTo(Math.min(10, (2 * (2 / 3) * 0.2 * 200 * 15) / 100), 4);
  });

  it('is never said to be carried without asking the program', () => {
    expect(surelyCarried(jaw(1e6), FREE[0]!, [0, 0, -1], [0, 0, 0])).toBe(false);
    const flat = [padAt([0, 0, 0], { pull: 1e6 })];
    expect(surelyCarried(flat, FREE[0]!, [0, 0, -1], [0, 0, 0])).toBe(true);
  });

  it('has forces that leave nothing over; more than F on a finger shows', () => {
    const system = held(5, jaw(200, { above: 4 }));
    const { gravity } = reserves(system);
    expect(residuals(system, gravity.forces!).worst).toBeLessThan(1e-6);
    const hard = gravity.forces!.pads[0]!.map((): Vec3 => [250 / 8, 0, 0]);
    const squeezed = { ...gravity.forces!, pads: [hard, gravity.forces!.pads[1]!] };
    expect(residuals(system, squeezed).strength).toBeCloseTo(50, 9);
  });
});

const anyJaw = fc.record({
  force: fc.integer({ min: 20, max: 400 }),
  friction: fc.integer({ min: 1, max: 6 }).map((tenth) => tenth / 10),
  radius: fc.integer({ min: 5, max: 40 }),
  above: fc.integer({ min: -20, max: 40 }),
  mass: fc.integer({ min: 1, max: 20 }),
});

describe('random jaws', () => {
  it('agree with a dense simplex on a formulation of its own', () => {
    let undecided = 0;
    fc.assert(
      fc.property(anyJaw, ({ mass, force, ...more }) => {
        const pads = jaw(force, more);
        const pushes: Push[] = [];
        const bounds: Bound[] = [];
        for (const pad of pads) {
          const first = pushes.length;
          const frame = [[0, 1, 0] as Vec3, [0, 0, 1] as Vec3, pad.normal] as const;
          const own = patch(first, padPoints(pad), frame, pad.friction, force, 0, -1);
          pushes.push(...own.pushes);
          const normals = padPoints(pad).map((_, i) => [first + 9 * i, 1] as const);
          bounds.push(...own.bounds, { weights: normals, limit: force });
        }
        const pulled = pads.map(({ at, normal }) => ({
          force: [-normal[0] * force, 0, 0] as Vec3,
          at,
          on: 0,
        }));
        const weight = [{ force: [0, 0, -mass * WEIGHT_OF_ONE] as Vec3, at: [0, 0, 0] as Vec3, on: 0 }];
        const witness = greatestFactor(1, pushes, bounds, pulled, weight)!;
        // Not a number where the simplex could not prove its answer.
        if (Number.isNaN(witness)) undecided += 1;
        else expect(reserves(held(mass, pads)).gravity.reserve).toBeCloseTo(witness, 4);
      }),
      { numRuns: 40, seed: 3 },
    );
    expect(undecided).toBeLessThan(4);
  });

  it('carry a weight along their faces like two magnet pads of the same pull, where nothing pulls across', () => {
    fc.assert(
      fc.property(anyJaw, ({ mass, force, friction, radius }) => {
        // Magnets on both cheeks of the body, in the same places, each with the pull of a finger.
        const magnets = jaw(force, { friction, radius }).map((pad) => ({ ...pad, most: undefined }));
        const [a, b] = [held(mass, jaw(force, { friction, radius })), held(mass, magnets)];
        expect(reserves(a).gravity.reserve).toBeCloseTo(reserves(b).gravity.reserve, 5);
      }),
      { numRuns: 40, seed: 4 },
    );
  });

  it('are never worth more than magnets of the same pull', () => {
    const anyPush = fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: -50, max: 50 })));
    fc.assert(
      fc.property(anyJaw, anyPush, ({ mass, force, ...more }, [x, y, z]) => {
        const load = [push([x!, y!, z!], [3, 5, 10])];
        const magnets = jaw(force, more).map((pad) => ({ ...pad, most: undefined }));
        const weak = reserves(held(mass, jaw(force, more)), load).loads[0]!.reserve;
        expect(weak).toBeLessThanOrEqual(reserves(held(mass, magnets), load).loads[0]!.reserve + 1e-5);
      }),
      { numRuns: 40, seed: 5 },
    );
  });
});

import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { bearingOf, bodyAt, padAt, push, rectangle, systemOf } from './scenes.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const whole = (min: number, max: number) => fc.integer({ min, max });

describe('how step 1 shares a load among the pads over a body', () => {
  it('decides no reserve: a hold whose limits never bind may be looked at from anywhere', () => {
    const anyCase = fc.record({
      mass: whole(1, 8),
      aside: whole(-40, 40),
      pull: whole(40, 400),
      force: fc.tuple(whole(-30, 30), whole(5, 30), whole(-10, 10)),
      at: fc.tuple(whole(-60, 60), whole(-30, 30), whole(-5, 5)),
      holdAt: fc.tuple(whole(-300, 300), whole(-300, 300), whole(100, 500)),
    });
    fc.assert(
      fc.property(anyCase, ({ mass, aside, pull, force, at, holdAt }) => {
        const pads = [-14, 14].map((x) => padAt([x, 0, 5], { radius: 14, pull, friction: 0.2 }));
        const reserve = (point: Vec3): number => {
          const system = systemOf({
            bodies: [bodyAt([aside, 0, 0], mass)],
            bearings: [bearingOf(rectangle([-50, 50], [-20, 20], -5), { friction: 0.15 })],
            pads,
            holds: [{ force: 1e7, moment: 1e9, at: point }],
          });
          return judge(programs, system, [push(force, at)], { cold: true }).disturbances[0]!.reserve;
        };
        expect(reserve(holdAt)).toBeCloseTo(reserve([0, 0, 165]), 4);
      }),
      { numRuns: 60, seed: 6 },
    );
  });
});

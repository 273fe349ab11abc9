import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { dot, type Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { denseGravity, denseReserve } from './dense-judge.js';
import { assembly, systemFrom } from './random-systems.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** How far HiGHS and the dense simplex may differ: reserves as they are, normal forces by their size. */
const TOLERANCE = 1e-5;

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

import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { judge as judgeAll, prepare } from '../../src/mechanics/equilibrium.js';
import { FACTOR_CAP } from '../../src/mechanics/equilibrium-program.js';
import { residuals } from '../../src/mechanics/residuals.js';
import type { Verdict } from '../../src/mechanics/verdict.js';
import { assembly, systemFrom } from './random-systems.js';
import { bearingOf, bodyAt, linkAt, push, rectangle, systemOf, WEIGHT_OF_ONE } from './scenes.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

describe('reserves proved without a linear program', () => {
  it('are never above the reserve that a program finds', () => {
    const seen = { stand: 0, fall: 0, told: 0, near: 0 };
    fc.assert(
      fc.property(assembly, (data) => {
        const { system, disturbances } = systemFrom(data);
        const judge = prepare(programs, system, disturbances, { cold: true });
        const { reserve, stands } = judge.gravity();
        const least = judge.leastGravity();
        expect(Math.min(FACTOR_CAP, least)).toBeLessThanOrEqual(reserve * (1 + 1e-6) + 1e-6);
        seen[stands ? 'stand' : 'fall'] += 1;
        disturbances.forEach((_, i) => {
          const bound = Math.min(FACTOR_CAP, judge.leastDisturbance(i, i % 2 === 0 ? FACTOR_CAP : undefined));
          const found = judge.disturbance(i).reserve;
          expect(bound).toBeLessThanOrEqual(found * (1 + 1e-6) + 1e-6);
          if (bound > 0.01) seen.told += 1;
          if (bound > 0.3 * found) seen.near += 1;
        });
        judge.dispose();
      }),
      { numRuns: 300, seed: 17 },
    );
    expect(seen.fall).toBeGreaterThan(20);
    expect(seen.told).toBeGreaterThan(150);
    expect(seen.near).toBeGreaterThan(100);
  });

  it('leave no program to be solved where they reach the greatest reserve, which their forces bear witness to', () => {
    let asked = 0;
    const counted: LinearPrograms = {
      ...programs,
      model: (program) => {
        asked += 1;
        return programs.model(program);
      },
    };
    const seen = { capped: 0, models: 0, witnessed: 0 };
    fc.assert(
      fc.property(assembly, (data) => {
        const { system, disturbances } = systemFrom(data);
        const withForces = judgeAll(programs, system, disturbances, { cold: true, forces: true });
        asked = 0;
        const found = judgeAll(counted, system, disturbances, { cold: true });
        seen.models += asked;
        if (withForces.gravity.stands && asked === 0) seen.capped += 1;
        const gravityForces = withForces.gravity.forces;
        withForces.disturbances.forEach(({ forces }, i) => {
          if (forces === undefined) return;
          expect(
            residuals(system, forces, { disturbance: disturbances[i], gravityForces }).worst,
          ).toBeLessThan(1e-6);
          expect(forces.disturbance).toBeGreaterThanOrEqual(withForces.disturbances[i]!.reserve - 1e-6);
          if (forces.disturbance > FACTOR_CAP) seen.witnessed += 1;
        });
        const plain = (verdict: Verdict) => ({ ...verdict, forces: undefined });
        expect(found.gravity).toEqual(plain(withForces.gravity));
        expect(found.disturbances).toEqual(withForces.disturbances.map(plain));
      }),
      { numRuns: 150, seed: 29 },
    );
    expect(seen.capped).toBeGreaterThan(1);
    expect(seen.models).toBeGreaterThan(20);
    expect(seen.witnessed).toBeGreaterThan(5);
  });

  // By hand: two tacks along x, 200 mm apart on a line through the centre, share a force along it.
  it('come near what tacks carry along a line', () => {
    const weight = 2 * WEIGHT_OF_ONE;
    const system = systemOf({
      bodies: [bodyAt([0, 0, 0], 2)],
      links: [-100, 100].flatMap((x) =>
        [-50, 50].map((y) => linkAt([x, y, 0], { along: [1, 0, 0], strength: 100 })),
      ),
    });
    const judge = prepare(programs, system, [push([0, 0, -weight], [0, 0, 0])]);
    const [gravity, pushed] = [judge.leastGravity(), judge.leastDisturbance(0)];
    judge.dispose();
    expect(gravity).toBeLessThanOrEqual(400 / weight);
    expect(gravity).toBeGreaterThan(400 / weight / 3);
    expect(pushed).toBeCloseTo(gravity - 1, 6);
  });

  it('count no friction that gravity alone would have to press for', () => {
    const floor = (preload: number) =>
      systemOf({
        bodies: [bodyAt([0, 0, 50], 4)],
        bearings: [bearingOf(rectangle([-50, 50], [-50, 50], 0), { friction: 0.3, preload })],
      });
    const aside = [push([1, 0, 0], [0, 0, 0])];
    const least = (preload: number): number => {
      const judge = prepare(programs, floor(preload), aside);
      const bound = judge.leastDisturbance(0);
      judge.dispose();
      return bound;
    };
    expect(least(0)).toBeLessThan(1e-6);
    expect(least(30)).toBeGreaterThan(3);
    expect(least(30)).toBeLessThanOrEqual(9);
  });

  it('tell nothing of a body that nothing holds up', () => {
    const judge = prepare(programs, systemOf({ bodies: [bodyAt([0, 0, 0])] }), [push([1, 0, 0], [0, 0, 0])]);
    expect([judge.leastGravity(), judge.leastDisturbance(0)]).toEqual([0, 0]);
    judge.dispose();
  });
});

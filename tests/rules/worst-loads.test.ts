import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { judge, prepare } from '../../src/mechanics/equilibrium.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { assemblySystem } from '../../src/rules/assembly.js';
import { asDisturbances, pushLoads } from '../../src/rules/load-cases.js';
import { betweenReserve, pushDirections, pushesBeside } from '../../src/rules/push-directions.js';
import { worstLoads } from '../../src/rules/worst-loads.js';
import { testCell } from '../support/cell.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** A base, and a block that stands on it as it is turned and shifted. */
function sceneWith(yaw: number, x: number) {
  const base = steelPart('base', plateShape(320, 320, 10), [0, 0, 5]);
  const block = steelPart('block', plateShape(120, 90, 60), [x, 0, 40], [0, 0, yaw]);
  const weldment = { ...standWeldment(), parts: [base, block], joints: [], needs: [] };
  return buildScene(weldment, testCell(), DEFAULT_SETTINGS);
}

describe('directions of a push', () => {
  it('are eight for a part that stands square on its own feet', () => {
    expect(pushDirections(sceneWith(0, 0), 1, [0]).map(({ name }) => name)).toEqual(
      [0, 45, 90, 135, 180, 225, 270, 315].map((degrees) => `${degrees} deg`),
    );
  });

  it('and one square to each edge of a foot that is cut off aslant', () => {
    // Half of the block hangs over the side of the base, so that a corner of its foot is cut off by that side.
    const found = pushDirections(sceneWith(30, 140), 1, [0]);
    expect(found.length).toBeGreaterThan(8);
    // The base is square to the weldment; the block is turned by 30 degrees against it.
    const further = found.slice(8).map(({ name }) => Number(name.split(' ')[0]));
    for (const degrees of further)
      expect(Math.min(...[60, 150, 240, 330].map((at) => Math.abs(at - degrees)))).toBeLessThan(0.1);
  });

  it('do not count a part below that is not in place', () => {
    expect(pushDirections(sceneWith(30, 140), 1, [])).toHaveLength(8);
  });
});

describe('the worst load of a family', () => {
  it.each([
    [0, 0],
    [20, 60],
    [30, 120],
    [45, 130],
  ])('is the same whatever is left out, turned by %d, at %d', (yaw, x) => {
    const scene = sceneWith(yaw, x);
    const assembly = assemblySystem(scene, { inPlace: [0, 1], tacks: [], held: [] }, DEFAULT_SETTINGS);
    const loads = pushLoads(scene, 1, [0], DEFAULT_SETTINGS);
    const forces = asDisturbances(loads, assembly);
    const { disturbances } = judge(programs, assembly.system, forces, { cold: true });
    const least = Math.min(...disturbances.map(({ reserve }) => reserve));
    const judged = (index: number) => disturbances[index]!;
    const [found, ...others] = worstLoads(loads, { judged, least: () => 0 });
    expect(others).toEqual([]);
    expect(found!.family).toBe('push');
    expect(found!.judged.reserve).toBe(least);
    const bounds = prepare(programs, assembly.system, forces);
    const bounded = { judged, least: bounds.leastDisturbance.bind(bounds) };
    expect(worstLoads(loads, bounded)).toEqual([found]);
    expect(worstLoads(loads, bounded, new Map([['push', least + 0.5]]))).toEqual([found]);
    bounds.dispose();
  });

  /** Loads of three families with reserves of their own, and bounds that are a share of them. */
  const sample = fc.record({
    reserves: fc.array(fc.integer({ min: 1, max: 14 }), { minLength: 22, maxLength: 22 }),
    shares: fc.array(fc.constantFrom(0, 0.4, 0.9, 1), { minLength: 22, maxLength: 22 }),
    known: fc.option(fc.integer({ min: 1, max: 12 })),
  });

  it('is the first of equals as if all had been judged, and left out only where one elsewhere is as bad', () => {
    let saved = 0;
    fc.assert(
      fc.property(sample, ({ reserves, shares, known }) => {
        const names = [
          ...[0, 45, 90, 135, 180, 225, 270, 315].flatMap((turn) => [
            `push top ${turn} deg`,
            `push foot ${turn} deg`,
          ]),
          ...['a', 'b'].flatMap((id) => ['feed', 'along', 'back'].map((way) => `torch touch ${id} ${way}`)),
        ];
        const loads = names.map((name) => ({ name, forces: [] }));
        // A diagonal push is carried as often as its neighbours make sure, or more; ten and more are told as ten.
        const whole = names.map((name, i) => {
          const beside = pushesBeside(name);
          if (beside === undefined) return reserves[i]!;
          const [p, q] = beside.map((other) => reserves[names.indexOf(other)]!) as [number, number];
          return Math.max(reserves[i]!, betweenReserve(p, q));
        });
        const truth = whole.map((reserve) => Math.min(10, reserve));
        const diagonal = (name: string): boolean => pushesBeside(name) !== undefined;
        const order = [...names.filter((name) => !diagonal(name)), ...names.filter(diagonal)];
        const asked = new Set<number>();
        const judged = (index: number) => {
          asked.add(index);
          return { reserve: truth[index]! };
        };
        const least = (index: number): number => shares[index]! * whole[index]!;
        const elsewhere = known === null ? undefined : new Map([['push' as const, Math.min(10, known)]]);
        const found = worstLoads(loads, { judged, least }, elsewhere);
        for (const family of ['push', 'torch touch'] as const) {
          const own = order.filter((name) => name.startsWith(family));
          const worst = Math.min(...own.map((name) => truth[names.indexOf(name)]!));
          const first = own.find((name) => truth[names.indexOf(name)] === worst);
          const told = found.find((one) => one.family === family);
          if (family === 'push' && elsewhere !== undefined && worst >= elsewhere.get('push')!) {
            if (told) expect(told.judged.reserve).toBeGreaterThanOrEqual(elsewhere.get('push')!);
          } else {
            expect(told?.load.name).toBe(first);
            expect(told?.judged.reserve).toBe(worst);
          }
        }
        saved += names.length - asked.size;
      }),
      { numRuns: 400, seed: 3 },
    );
    expect(saved).toBeGreaterThan(2000);
  });
});

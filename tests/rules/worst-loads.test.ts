import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { assemblySystem } from '../../src/rules/assembly.js';
import { asDisturbances, pushLoads } from '../../src/rules/load-cases.js';
import { pushDirections } from '../../src/rules/push-directions.js';
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
  ])('is the same with and without the diagonal pushes left out, turned by %d, at %d', (yaw, x) => {
    const scene = sceneWith(yaw, x);
    const assembly = assemblySystem(scene, { inPlace: [0, 1], tacks: [], held: [] }, DEFAULT_SETTINGS);
    const loads = pushLoads(scene, 1, [0], DEFAULT_SETTINGS);
    const { disturbances } = judge(programs, assembly.system, asDisturbances(loads, assembly), {
      cold: true,
    });
    let asked = 0;
    const found = worstLoads(loads, (i) => {
      asked += 1;
      return disturbances[i]!;
    });
    const least = Math.min(...disturbances.map(({ reserve }) => reserve));
    expect(found).toHaveLength(1);
    expect(found[0]!.family).toBe('push');
    expect(found[0]!.judged.reserve).toBe(least);
    expect(asked).toBeLessThanOrEqual(loads.length);
  });
});

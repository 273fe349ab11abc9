import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { flatBearings } from '../../src/mechanics/flat-bearings.js';
import type { Bearing } from '../../src/mechanics/system.js';
import { WEIGHT_OF_ONE, bearingOf, bodyAt, push, rectangle, systemOf } from './scenes.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** The end of a hollow section of 100 by 60 and wall 4, as the four pieces of its wall. */
const ring = (more: Partial<Bearing> = {}): Bearing[] =>
  [
    rectangle([-50, 50], [-30, -26], 0),
    rectangle([-50, 50], [26, 30], 0),
    rectangle([-50, -46], [-26, 26], 0),
    rectangle([46, 50], [-26, 26], 0),
  ].map((corners) => bearingOf(corners, more));

const reserves = (bearings: readonly Bearing[]): number[] => {
  const system = systemOf({ bodies: [bodyAt([0, 0, 100])], bearings });
  const loads = [push([1, 0, 0], [0, 0, 150]), push([0, 1, 0], [0, 0, 150]), push([1, 0, 0], [0, 0, 1])];
  return judge(programs, system, loads, { cold: true }).disturbances.map(({ reserve }) => reserve);
};

describe('bearings on one plane', () => {
  it('of a hollow section become one on its outer corners', () => {
    const [only, ...rest] = flatBearings(ring());
    expect(rest).toEqual([]);
    expect([...only!.corners].sort()).toEqual(rectangle([-50, 50], [-30, 30], 0).sort());
  });

  it('carry as the closed answer says, tipping at W b / h and sliding at mu W, and as the four did', () => {
    const [overX, overY, slide] = reserves(flatBearings(ring()));
    expect(overX).toBeCloseTo((WEIGHT_OF_ONE * 50) / 150, 5);
    expect(overY).toBeCloseTo((WEIGHT_OF_ONE * 30) / 150, 5);
    expect(slide).toBeCloseTo(0.5 * WEIGHT_OF_ONE, 5);
    const four = reserves(ring());
    // The four share the friction as the least normal forces of gravity happen to lie: never more than the one has.
    for (const [i, reserve] of [overX, overY, slide].entries()) {
      expect(four[i]! <= reserve! + 1e-6).toBe(true);
    }
    expect(four[2]).toBeCloseTo(slide!, 5);
  });

  it('stay apart on other planes, between other bodies, with other friction, and when clamped', () => {
    const [first, second] = ring() as [Bearing, Bearing];
    const higher = { ...second, corners: second.corners.map(([x, y, z]) => [x, y, z + 1] as const) };
    for (const other of [
      higher,
      { ...second, normal: [0, 0, -1] as const },
      { ...second, b: 1 },
      { ...second, friction: 0.3 },
    ])
      expect(flatBearings([first, other])).toEqual([first, other]);
    const clamped = ring({ preload: 100 });
    expect(flatBearings(clamped)).toEqual(clamped);
  });
});

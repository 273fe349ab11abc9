import { describe, expect, it } from 'vitest';
import { has } from '../../src/base/part-set.js';
import { torchWays, type TorchWay } from '../../src/facts/torch-ways.js';
import { place, rotate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import type { Torch } from '../../src/model/cell.js';
import { buildScene, type Scene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { Weldment } from '../../src/model/weldment.js';
import { testCell } from '../support/cell.js';

/**
 * A trihedral inside corner: the base z < 10, a wall y < 0 and a cheek x < 0 of the given height, which meet in
 * (0, 0, 10). The seam of base and wall runs along x; the tack starts `d` mm from the cheek.
 */
function corner(height: number, torch: Torch): Scene {
  const read = readWeldment(
    `weldment: corner
units: mm kg N s deg
parts:
  base: { block: { length: 600, width: 600, height: 10 }, at: [290, 290, 5] }
  wall: { block: { length: 600, width: 10, height: 400 }, at: [290, -5, 210] }
  cheek: { block: { length: 10, width: 590, height: ${height} }, at: [-5, 295, ${10 + height / 2}] }
`,
    'corner',
  );
  expect(read.issues).toEqual([]);
  const cell = testCell();
  const changed = { ...cell, welders: [{ ...cell.welders[0]!, torch }] };
  return buildScene(read.value as Weldment, changed, DEFAULT_SETTINGS);
}

const TORCH: Torch = {
  ...testCell().welders[0]!.torch,
  ...{
    stickOut: 15,
    nozzleRadius: 10,
    nozzleLength: 60,
    bodyFrontRadius: 25,
    bodyRadius: 25,
    bodyLength: 140,
  },
};
const ONE_CONE: Torch = { ...TORCH, nozzleLength: 0, bodyFrontRadius: 10 };

/** Torch ways that meet no part, `d` mm from the cheek. */
function open(d: number, torch: Torch, height = 400): readonly TorchWay[] {
  const scene = corner(height, torch);
  const { weldmentPose } = scene.cell;
  const at = (x: number): Vec3 => place(weldmentPose, [x, 0, 10]);
  const line = {
    ...{ from: at(d), to: at(d + 40), along: rotate(weldmentPose.turn, [1, 0, 0]) },
    open: rotate(weldmentPose.turn, [0, Math.SQRT1_2, Math.SQRT1_2]),
  };
  return torchWays(scene, torch, line, DEFAULT_SETTINGS).filter(({ hits }) =>
    [0, 1, 2].every((i) => !has(hits, i)),
  );
}

const tilts = (ways: readonly TorchWay[]): string[] => ways.map(({ tilt }) => tilt.join());
/** Overlaps up to 0.05 mm count as touching. */
const TOUCH = 0.05;
const [SIN, COS] = [Math.sin(Math.PI / 12), Math.cos(Math.PI / 12)];

describe('a torch in a trihedral inside corner', () => {
  it('stands square to the seam as near to the cheek as its body is thick', () => {
    expect(tilts(open(25 - TOUCH + 0.01, TORCH))).toContain('0,0');
    expect(tilts(open(25 - TOUCH - 0.01, TORCH))).not.toContain('0,0');
  });

  it('comes nearer when it leans away: by the rim of the nozzle, or by the front of the body', () => {
    // A disc of radius r at s behind the tip reaches r cos t - s sin t toward the cheek, leaning by t = 15 degrees.
    const rim = 10 * COS - 15 * SIN;
    const body = 25 * COS - 75 * SIN;
    expect(rim).toBeCloseTo(5.777, 3);
    expect(body).toBeCloseTo(4.737, 3);
    const leaning = (d: number, torch: Torch) =>
      tilts(open(d, torch)).filter((tilt) => tilt === '0,15' || tilt === '0,-15');
    expect(leaning(rim - TOUCH + 0.01, TORCH)).toHaveLength(1);
    expect(leaning(rim - TOUCH - 0.01, TORCH)).toEqual([]);
    // A body that begins 30 mm behind the tip, with a nozzle of 15 mm: now it is what meets the cheek.
    const short: Torch = { ...TORCH, nozzleLength: 15 };
    const early = 25 * COS - 30 * SIN;
    expect(leaning(early - TOUCH + 0.01, short)).toHaveLength(1);
    expect(leaning(early - TOUCH - 0.01, short)).toEqual([]);
  });

  it('needs a stick-out of the radius of its nozzle between walls at 90 degrees', () => {
    // On the bisector the rim is (s - r) / sqrt 2 off both walls.
    const at = (stickOut: number) => tilts(open(200, { ...TORCH, stickOut, nozzleLength: 60 }));
    expect(at(10 - TOUCH * Math.SQRT2 + 0.01)).toContain('0,0');
    expect(at(10 - TOUCH * Math.SQRT2 - 0.01)).not.toContain('0,0');
  });

  it('passes a cheek that only the nozzle meets, which one cone over nozzle and body would not', () => {
    // The body begins 75 mm behind the tip: its lowest point is (75 - 25) / sqrt 2 = 35.4 mm above the base.
    expect(tilts(open(10 - TOUCH + 0.01, TORCH, 30))).toContain('0,0');
    expect(tilts(open(10 - TOUCH - 0.01, TORCH, 30))).not.toContain('0,0');
    expect(tilts(open(10, ONE_CONE, 30))).not.toContain('0,0');
    expect(tilts(open(25, ONE_CONE, 30))).toContain('0,0');
  });
});

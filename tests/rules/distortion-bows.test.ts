import { describe, expect, it } from 'vitest';
import { fromRollPitchYaw, place, rotate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { buildScene, type Scene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { memberBows } from '../../src/rules/distortion-bows.js';
import type { ShrinkingTack } from '../../src/rules/distortion-tacks.js';
import { testCell } from '../support/cell.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

/** A T a metre long: a flange 80 x 8 and a web 90 x 6 on it, lying at an angle in the cell. */
function longTee(flangeWidth = 80): Scene {
  const cell = testCell();
  const weldmentPose = { at: cell.weldmentPose.at, turn: fromRollPitchYaw(0, 0, 33) };
  const parts = [
    steelPart('flange', plateShape(1000, flangeWidth, 8), [0, 0, 4]),
    steelPart('web', plateShape(1000, 90, 6), [0, 0, 53], [-90, 0, 0]),
  ];
  return buildScene({ ...standWeldment(), parts }, { ...cell, weldmentPose }, DEFAULT_SETTINGS);
}

const half = Math.SQRT1_2;

/** A tack of 40 mm and leg 4 between flange and web, at a place along it and on one side. */
function tack({ cell: { weldmentPose } }: Scene, x: number, side: -1 | 1): ShrinkingTack {
  const turned = (v: Vec3): Vec3 => rotate(weldmentPose.turn, v);
  return {
    ...{ id: `${side} ${x}`, seam: `${side}`, a: 0, b: 1, at: place(weldmentPose, [x, side * 3, 8]) },
    ...{ along: turned([1, 0, 0]), open: turned([0, side * half, half]) },
    ...{ length: 40, leg: 4, gap: 0, seamLength: 1000, type: 'fillet' },
  };
}

/** Section of flange and web: centroid at (640 x 4 + 540 x 53) / 1180, second moments by the parallel-axis theorem. */
const CENTROID = (640 * 4 + 540 * 53) / 1180;
const UPRIGHT =
  (80 * 8 ** 3) / 12 + 640 * (CENTROID - 4) ** 2 + (6 * 90 ** 3) / 12 + 540 * (53 - CENTROID) ** 2;
const SIDEWAYS = (8 * 80 ** 3) / 12 + (90 * 6 ** 3) / 12;
/** Half of leg squared, times the share of a metre. */
const AREA = 8 * 0.04;

/** Blodgett: 0.005 Aw d L^2 / I, from memory. */
const blodgett = (area: number, distance: number, moment: number): number =>
  (0.005 * area * distance * 1000 ** 2) / moment;

describe('a slender member', () => {
  it('bows by the formula for its whole section, upright where both sides are tacked', () => {
    const scene = longTee();
    const tacks = [tack(scene, -300, 1), tack(scene, -300, -1), tack(scene, 300, 1), tack(scene, 300, -1)];
    const [found, ...none] = memberBows(scene, DEFAULT_SETTINGS, tacks);
    expect(none).toEqual([]);
    expect(found).toMatchObject({ parts: ['flange', 'web'], length: 1000 });
    expect(found!.bow).toBeCloseTo(blodgett(4 * AREA, CENTROID - 8, UPRIGHT), 3);
  });

  it('bows sideways too where one side is tacked, and by the factor of the settings', () => {
    const scene = longTee();
    const tacks = [tack(scene, -300, 1), tack(scene, 300, 1)];
    const [upright, sideways] = [blodgett(2 * AREA, CENTROID - 8, UPRIGHT), blodgett(2 * AREA, 3, SIDEWAYS)];
    expect(memberBows(scene, DEFAULT_SETTINGS, tacks)[0]!.bow).toBeCloseTo(Math.hypot(upright, sideways), 3);
    const twice = { ...DEFAULT_SETTINGS, distortion: { ...DEFAULT_SETTINGS.distortion, longitudinal: 2 } };
    expect(memberBows(scene, twice, tacks)[0]!.bow).toBeCloseTo(2 * Math.hypot(upright, sideways), 2);
  });

  it('is one that is longer than ten times its depth, and has tacks along it', () => {
    expect(memberBows(longTee(), DEFAULT_SETTINGS, [])).toEqual([]);
    const stiffened = longTee(400);
    const [found] = memberBows(stiffened, DEFAULT_SETTINGS, [tack(stiffened, 0, 1)]);
    // The web alone is slender, and the flange that it stands on counts for its section.
    expect(found!.parts).toEqual(['flange', 'web']);
    const sheet = { ...standWeldment(), parts: [steelPart('sheet', plateShape(1000, 400, 8), [0, 0, 4])] };
    expect(memberBows(buildScene(sheet, testCell(), DEFAULT_SETTINGS), DEFAULT_SETTINGS, [])).toEqual([]);
  });
});

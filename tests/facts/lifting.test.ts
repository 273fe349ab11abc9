import { describe, expect, it } from 'vitest';
import { liftingOf } from '../../src/facts/lifting.js';
import type { Gripper } from '../../src/model/gripper.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { testCell } from '../support/cell.js';
import { jawOf, magnetOf, vacuumOf } from '../support/grippers.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

/** A sheet of 2 mm, 300 x 200: 0.942 kg, 9.238 N. */
const sheet = steelPart('sheet', plateShape(300, 200, 2), [0, 0, 1]);
const scene = buildScene(
  { ...standWeldment(), parts: [sheet], joints: [], needs: [] },
  testCell(),
  DEFAULT_SETTINGS,
);
const WEIGHT = 0.942 * 9.80665;
const lifting = (gripper: Gripper, group?: string) =>
  liftingOf(scene, 0, {
    ...{ id: 0, face: '+z', position: [0, 0] as const, turn: 0, gripper, group },
    robot: testCell().handlers[0]!,
  });

// Factors: ASME B30.20 (check-values section 6); that of vacuum from memory.
describe('the lifting benchmark', () => {
  it('of a magnet on thin sheet counts what the thickness leaves of its pull', () => {
    const found = lifting(magnetOf({ ratedThickness: 10 }))!;
    expect(found.pull).toBeCloseTo(2 * 600 * 0.75 * 0.2, 3);
    expect(found.thicknessShare).toBeCloseTo(0.2, 12);
    expect(found.thickness).toEqual({ part: 2, rated: 10 });
    expect(found.factor).toBeCloseTo(180 / WEIGHT, 3);
    expect(found.asked).toEqual({ factor: 3, of: 'permanent magnets' });
  });

  it('asks 2 of electromagnets and of vacuum, and nothing of a jaw', () => {
    expect(lifting(magnetOf({ magnet: 'electro' }))!.asked.factor).toBe(2);
    const cups = lifting(vacuumOf())!;
    expect(cups.asked).toEqual({ factor: 2, of: 'vacuum' });
    expect(cups.factor).toBeCloseTo((2 * 60e-3 * (Math.PI / 4) * 40 ** 2 * 0.8) / WEIGHT, 3);
    expect(lifting(jawOf())).toBeUndefined();
  });

  it('counts the pads in use', () => {
    const half = lifting(magnetOf({ groups: [{ id: 'left', pads: [0] }] }), 'left')!;
    expect(half.pull).toBeCloseTo(lifting(magnetOf())!.pull / 2, 9);
  });
});

import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { GripPlace } from '../../src/model/placement.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { HeldPart } from '../../src/rules/assembly.js';
import { carriedReserves } from '../../src/rules/carried.js';
import { proofReserve } from '../../src/rules/proof-reserve.js';
import { testCell } from '../support/cell.js';
import { magnetOf } from '../support/grippers.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

const programs = await loadLinearPrograms();
const GRAVITY = 9.80665;

/** One pad: 600 N x 0.75 (scale) x 0.6 (reduction) = 270 N; friction 0.2 x 0.75 = 0.15. */
const [PULL, FRICTION] = [270, 0.15];
const gripper = magnetOf({ pads: [[0, 0]] });
const handler = testCell().handlers[0]!;
const robot = { ...handler, payload: { mass: 50, force: 1e5, moment: 1e8 } };
const middle: GripPlace = { face: '+z', position: [0, 0], turn: 0 };
const held: HeldPart = { part: 0, grip: middle, gripper, robot };

/** A plate 10 mm thick, alone, of a given mass. */
const sceneOf = (mass: number, turn: Vec3 = [0, 0, 0]) => {
  const plate = { ...steelPart('plate', plateShape(200, 100, 10), [0, 0, 60], turn), massGiven: mass };
  const weldment = { ...standWeldment(), parts: [plate], joints: [], needs: [], first: undefined };
  return buildScene(weldment, testCell(), DEFAULT_SETTINGS);
};

describe('a plate of 8 kg under one pad in an emergency stop of 3 m/s2', () => {
  const scene = sceneOf(8);
  const reserves = new Map(
    carriedReserves(programs, scene, held, scene.parts[0]!.pose, DEFAULT_SETTINGS).map((one) => [
      one.case,
      one,
    ]),
  );
  const [weight, inertia] = [8 * GRAVITY, 8 * 3];

  it('hangs by its pull', () => {
    expect(reserves.get('gravity')!.reserve).toBeCloseTo(PULL / weight, 5);
  });

  it('slides sideways at the friction that its weight leaves, and comes off at the pull that it leaves', () => {
    for (const way of [0, 90, 180, 270].map((degrees) => `emergency stop level ${degrees} deg`))
      expect(reserves.get(way)!.reserve).toBeCloseTo((FRICTION * (PULL - weight)) / inertia, 4);
    expect(reserves.get('emergency stop down')!.reserve).toBeCloseTo((PULL - weight) / inertia, 4);
    // Pressed onto the pad it goes nowhere: no more than ten is looked for.
    expect(reserves.get('emergency stop up')!.reserve).toBe(10);
  });
});

describe('a proof pull of 50 N away from the part', () => {
  it('has what the weight of a hanging part leaves of the pull', () => {
    expect(proofReserve(programs, sceneOf(8), held, 50, DEFAULT_SETTINGS)).toBeCloseTo(
      (PULL - 8 * GRAVITY) / 50,
      4,
    );
  });

  it('at an upright web leaves the pads the friction for its weight: mu (P - f) = W', () => {
    const web = sceneOf(2, [90, 0, 0]);
    expect(proofReserve(programs, web, held, 50, DEFAULT_SETTINGS)).toBeCloseTo(
      (PULL - (2 * GRAVITY) / FRICTION) / 50,
      4,
    );
  });
});

import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { movedDisturbance } from '../../src/mechanics/moved-system.js';
import type { GripPlace } from '../../src/model/placement.js';
import { buildScene, type Scene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { hangingSystem, type HeldPart } from '../../src/rules/assembly.js';
import {
  governingInertia,
  inertiaLoads,
  notCarried,
  weakestCarried,
  type CarriedReserve,
} from '../../src/rules/carried.js';
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

/** Every reserve of the plate as it hangs in its place, each by a program. */
function carriedReserves(scene: Scene): readonly CarriedReserve[] {
  const { pose } = scene.parts[0]!;
  const { system, frame } = hangingSystem(scene, held, pose, DEFAULT_SETTINGS);
  const loads = inertiaLoads(scene, held, pose, DEFAULT_SETTINGS).map((load) =>
    movedDisturbance(load, frame),
  );
  const { gravity, disturbances } = judge(programs, system, loads, { cold: true });
  const { required } = governingInertia(DEFAULT_SETTINGS);
  const weight = { case: 'gravity', required: DEFAULT_SETTINGS.reserves.gravity, reserve: gravity.reserve };
  if (!gravity.stands) return [weight];
  return [weight, ...disturbances.map(({ name, reserve }) => ({ case: name, required, reserve }))];
}

describe('a plate of 8 kg under one pad in an emergency stop of 3 m/s2', () => {
  const scene = sceneOf(8);
  const reserves = new Map(carriedReserves(scene).map((one) => [one.case, one]));
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

describe('the weakest of what is carried', () => {
  const share = ({ reserve, required }: CarriedReserve): number => reserve / required;
  const turns: readonly Vec3[] = [
    [0, 0, 0],
    [90, 0, 0],
    [30, 0, 0],
    [0, 60, 15],
  ];

  it('is the first of the least of all, and known where it is too little', () => {
    const seen = { weight: 0, inertia: 0, short: 0, fallen: 0 };
    for (const turn of turns)
      for (const mass of [0.1, 0.5, 1, 2, 4, 8, 14, 30]) {
        const scene = sceneOf(mass, turn);
        const { pose } = scene.parts[0]!;
        const all = carriedReserves(scene);
        const first = all.reduce((least, next) => (share(next) < share(least) ? next : least));
        expect(weakestCarried(programs, scene, held, [pose], DEFAULT_SETTINGS)).toEqual(first);
        const short = share(first) < 1 ? first : undefined;
        expect(notCarried(programs, scene, held, pose, DEFAULT_SETTINGS)).toEqual(short);
        seen[first.case === 'gravity' ? 'weight' : 'inertia'] += 1;
        if (short) seen.short += 1;
        if (all.length === 1) seen.fallen += 1;
      }
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(2);
  });

  it('is that of the pose in which it is least', () => {
    const [one, other] = [sceneOf(2), sceneOf(2, [90, 0, 0])];
    const poses = [one, other].map(({ parts }) => parts[0]!.pose);
    const weakest = weakestCarried(programs, one, held, poses, DEFAULT_SETTINGS);
    expect(weakest).toEqual(weakestCarried(programs, other, held, poses.slice(1), DEFAULT_SETTINGS));
  });
});

describe('a proof pull of 50 N away from the part', () => {
  it('has what the weight of a hanging part leaves of the pull', () => {
    expect(proofReserve(programs, sceneOf(8), held, 50, DEFAULT_SETTINGS)).toBeCloseTo(
      (PULL - 8 * GRAVITY) / 50,
      4,
    );
  });

  it('is not worked out where it is surely enough', () => {
    const asked = (enough: number) => proofReserve(programs, sceneOf(8), held, 50, DEFAULT_SETTINGS, enough);
    expect(asked(2)).toBeUndefined();
    expect(asked(5)).toBeCloseTo((PULL - 8 * GRAVITY) / 50, 4);
  });

  it('at an upright web leaves the pads the friction for its weight: mu (P - f) = W', () => {
    const web = sceneOf(2, [90, 0, 0]);
    expect(proofReserve(programs, web, held, 50, DEFAULT_SETTINGS)).toBeCloseTo(
      (PULL - (2 * GRAVITY) / FRICTION) / 50,
      4,
    );
  });
});

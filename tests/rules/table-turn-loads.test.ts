import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { place, rotate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import type { Cell, Turntable } from '../../src/model/cell.js';
import { buildScene, type Scene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { assemblySystem } from '../../src/rules/assembly.js';
import { asDisturbances, familyOf, requiredReserve } from '../../src/rules/load-cases.js';
import { stageStates } from '../../src/rules/stage-states.js';
import { tableTurnLoads } from '../../src/rules/table-turn-loads.js';
import { testCell } from '../support/cell.js';
import { standWeldment, steelPart } from '../support/stand-weldment.js';

const programs = await loadLinearPrograms();
const GRAVITY = 9.80665;
/** Reduced friction of the table: 0.2 times 0.75. */
const FRICTION = 0.15;

/** A cube that stands free on the table, off the axis by this much along x of the weldment. */
function cubeAt(
  x: number,
  side: number,
  { speed, acceleration }: Pick<Turntable, 'speed' | 'acceleration'>,
): Scene {
  const still = testCell();
  const turntable: Turntable = {
    ...{ angles: [0, 90], axis: [0, 0], settle: 1, commander: 'welder', speed, acceleration },
  };
  const cell: Cell = { ...still, table: { ...still.table, clamp: { name: 'none', force: 0 }, turntable } };
  const shape = { kind: 'block', length: side, width: side, height: side } as const;
  const cube = { ...steelPart('cube', shape, [x, 0, side / 2]), massGiven: 3 };
  const weldment = { ...standWeldment(), parts: [cube], joints: [], needs: [], first: undefined };
  return buildScene(weldment, cell, DEFAULT_SETTINGS);
}

function reserves(scene: Scene): ReadonlyMap<string, number> {
  const state = { inPlace: [0], tacks: [], held: [] };
  const assembly = assemblySystem(scene, state, DEFAULT_SETTINGS);
  const loads = asDisturbances(tableTurnLoads(scene, [0]), assembly);
  const { disturbances } = judge(programs, assembly.system, loads);
  return new Map(disturbances.map(({ name, reserve }) => [name, reserve]));
}

const degrees = (radians: number): number => (radians * 180) / Math.PI;

describe('a block that stands free on a turning table', () => {
  it('is flung by m alpha r along its way and m omega2 r outward, from rest and at full speed, both ways', () => {
    // 2 rad/s2 and 1.5 rad/s at 200 mm: 0.4 and 0.45 m/s2.
    const scene = cubeAt(200, 40, { acceleration: degrees(2), speed: degrees(1.5) });
    const inWeldment = (v: Vec3): Vec3 => rotate(scene.cell.weldmentPose.turn, v);
    const loads = tableTurnLoads(scene, [0]);
    expect(loads.map(({ name }) => name)).toEqual([
      'table turn left from rest',
      'table turn left at full speed',
      'table turn right from rest',
      'table turn right at full speed',
    ]);
    const sums = loads.map(({ forces }) =>
      [0, 1, 2].map((i) => forces.reduce((sum, { force }) => sum + force[i as 0 | 1 | 2], 0)),
    );
    const wanted: readonly Vec3[] = [
      [0, -1.2, 0],
      [1.35, -1.2, 0],
      [0, 1.2, 0],
      [1.35, 1.2, 0],
    ];
    wanted.forEach((force, i) => expect(sums[i]).toEqual(inWeldment(force).map((x) => expect.closeTo(x, 9))));
    // A cube of side s turns about its own middle with m s2 / 6: here 3 * 1600 / 6 kg mm2 at 2 rad/s2, in N mm.
    const [first] = loads;
    const centre = place(scene.cell.weldmentPose, [200, 0, 20]);
    const moment = first!.forces.reduce(
      (sum, { force, at }) => sum + (at[0] - centre[0]) * force[1] - (at[1] - centre[1]) * force[0],
      0,
    );
    expect(moment).toBeCloseTo(-1.6, 9);
    expect(familyOf(first!.name)).toBe('table turn');
    expect(requiredReserve('table turn', DEFAULT_SETTINGS)).toBe(1.5);
  });

  it('slides at full speed when omega2 r is more than friction carries', () => {
    const scene = cubeAt(200, 40, { acceleration: 1e-6, speed: degrees(2) });
    const reserve = (FRICTION * GRAVITY * 1000) / (4 * 200);
    expect(reserves(scene).get('table turn left at full speed')).toBeCloseTo(reserve, 4);
  });

  it('slides from rest when alpha r is, and from both at once at their root of squares', () => {
    // 1 rad/s2 and 1 rad/s, so that both are equal and their sum lies along an edge of the friction octagon. The
    // twist about its own middle, s2 / 6 against r times half a diagonal, costs under 2 %.
    const scene = cubeAt(280, 20, { acceleration: degrees(1), speed: degrees(1) });
    const found = reserves(scene);
    const slides = (FRICTION * GRAVITY * 1000) / 280;
    for (const way of ['left', 'right']) {
      const [one, both] = ['from rest', 'at full speed'].map((when) =>
        found.get(`table turn ${way} ${when}`)!,
      );
      for (const [reserve, wanted] of [
        [one!, slides],
        [both!, slides / Math.SQRT2],
      ] as const) {
        expect(reserve).toBeLessThan(wanted + 1e-4);
        expect(reserve).toBeGreaterThan(0.98 * wanted);
      }
    }
  });

  it('is not moved by a table that stands still, and the turn is a state only before another angle', () => {
    const scene = cubeAt(200, 40, { acceleration: 10, speed: 10 });
    const still = { ...scene, cell: testCell() };
    expect(tableTurnLoads(still, [0])).toEqual([]);
    const moment = {
      ...{ part: 0, direction: [0, 0, -1] as Vec3, before: [], laid: [], placing: undefined, held: false },
      ...{
        heldOn: false,
        other: undefined,
        otherKept: false,
        securing: [],
        completing: [],
        proofPull: undefined,
      },
    };
    const states = (turnedAfter: boolean) =>
      stageStates(scene, { ...moment, turnedAfter }, DEFAULT_SETTINGS).map(({ state }) => state);
    expect(states(true).filter((state) => !states(false).includes(state))).toEqual(['turning']);
  });
});

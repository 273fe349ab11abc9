import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { place, rotate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { assemblySystem, type LaidTack } from '../../src/rules/assembly.js';
import { liftOutLoads } from '../../src/rules/lift-out.js';
import { asDisturbances } from '../../src/rules/load-cases.js';
import { testCell } from '../support/cell.js';
import { standWeldment, steelPart } from '../support/stand-weldment.js';

const programs = await loadLinearPrograms();
const GRAVITY = 9.80665;

/** A post on the table and a beam of 6 kg that sticks out of it over 200 mm: 0.8 mm apart, so that only tacks carry. */
const post = steelPart('post', { kind: 'block', length: 60, width: 60, height: 200 }, [0, 0, 100]);
const beam = {
  ...steelPart('beam', { kind: 'block', length: 200, width: 40, height: 40 }, [130.8, 0, 150]),
  massGiven: 6,
};
const weldment = { ...standWeldment(), parts: [post, beam], joints: [], needs: [], first: undefined };
const scene = buildScene(weldment, testCell(), DEFAULT_SETTINGS);

/** Two tacks across the beam, above and below it, 40 mm apart, 100 mm from its centre of mass. */
const STRENGTH = 600;
const tackAt = (z: number): LaidTack => {
  const { weldmentPose: frame } = scene.cell;
  const [at, way]: [Vec3, Vec3] = [
    [30.8, 0, z],
    [0, 1, 0],
  ];
  return {
    ...{ a: 0, b: 1, length: 20, strength: STRENGTH },
    ...{ at: place(frame, at), along: rotate(frame.turn, way) },
  };
};

describe('a tack-up that is lifted out by the part that stands on the table', () => {
  const loads = liftOutLoads(scene, [0, 1], DEFAULT_SETTINGS);
  const state = { inPlace: [0, 1], tacks: [tackAt(170), tackAt(130)], held: [], lifted: true };
  const assembly = assemblySystem(scene, state, DEFAULT_SETTINGS);
  const { gravity, disturbances } = judge(programs, assembly.system, asDisturbances(loads, assembly));
  const weight = 6 * GRAVITY;
  const inertia = 6 * DEFAULT_SETTINGS.loads['lift-acceleration'];
  // A load L pulls L d / h at one tack and pushes as much at the other; with its shares V of L itself each carries
  // L d / h + V <= S (an octahedron), together L (2 d / h + 1) <= 2 S; S is half of STRENGTH by the reduction.
  const most = STRENGTH / ((2 * 100) / 40 + 1);

  it('has the post as ground, and a load of the beam for each way', () => {
    expect(assembly.pieces.map(({ part }) => part)).toEqual([1]);
    expect(assembly.system.bearings).toEqual([]);
    expect(loads.map(({ name }) => name)).toEqual(
      ['up', '+x', '-x', '+y', '-y'].map((way) => `lift-out ${way}`),
    );
    expect(loads[0]!.forces).toEqual([
      {
        ...{ part: 1, member: 0 },
        force: [-0, -0, -inertia].map((x) => expect.closeTo(x, 9)),
        at: scene.parts[1]!.solid.centre,
      },
    ]);
  });

  it('hangs by its two tacks until the beam is as heavy as their couple carries', () => {
    expect(gravity.reserve).toBeCloseTo(most / weight, 5);
    expect(disturbances[0]!.reserve).toBeCloseTo((most - weight) / inertia, 5);
  });
});

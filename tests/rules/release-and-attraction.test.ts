import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { length } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { gapShare } from '../../src/mechanics/pads.js';
import type { Gripper } from '../../src/model/gripper.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { GripPlace } from '../../src/model/placement.js';
import type { Part, Weldment } from '../../src/model/weldment.js';
import { findMaterial } from '../../src/model/material.js';
import { hangingSystem } from '../../src/rules/assembly.js';
import { letGoLoad } from '../../src/rules/load-cases.js';
import { magnetAttraction } from '../../src/rules/magnet-attraction.js';
import { pullPerPad } from '../../src/rules/pad-pull.js';
import { releaseForces } from '../../src/rules/release-pull.js';
import { testCell } from '../support/cell.js';
import { jawOf, magnetOf, vacuumOf } from '../support/grippers.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

const programs = await loadLinearPrograms();

/** Plates that stand beside and under one another; the weldment frame of the cell is turned by a quarter. */
const sceneOf = (...parts: Part[]) => {
  const weldment: Weldment = { ...standWeldment(), parts, joints: [], needs: [], first: undefined };
  return buildScene(weldment, testCell(), DEFAULT_SETTINGS);
};
const plate = steelPart('plate', plateShape(200, 100, 10), [0, 0, 5]);
const scene = sceneOf(plate);
const robot = testCell().handlers[0]!;
const top: GripPlace = { face: '+z', position: [0, 0], turn: 0 };
const forces = (gripper: Gripper) => releaseForces(scene, 0, top, gripper).map(({ force }) => force[2]);

describe('letting go', () => {
  it('pulls with the residual magnetism, the rest of the vacuum or the drag of the fingers, pad by pad', () => {
    expect(forces(magnetOf())).toEqual([22.5, 22.5].map((force) => expect.closeTo(force, 9)));
    const cup = 60e-3 * (Math.PI / 4) * 40 ** 2 * 0.8;
    expect(forces(vacuumOf())).toEqual([0.05, 0.05].map((share) => expect.closeTo(share * cup, 9)));
    const across: GripPlace = { ...top, face: '+y', turn: 0 };
    const jaw = jawOf({ stroke: [5, 300], depth: 30 });
    const drag = releaseForces(scene, 0, across, jaw);
    expect(drag).toHaveLength(2);
    expect(drag.map(({ force }) => length(force))).toEqual([expect.closeTo(5, 9), expect.closeTo(5, 9)]);
    expect(letGoLoad(scene, 0, across, jaw).forces).toMatchObject(drag);
  });

  it('pushes with the blow-off where there is one', () => {
    expect(forces(vacuumOf({ blowOff: 12 }))).toEqual([-12, -12]);
  });

  it('concerns the pads in use only', () => {
    const magnet = magnetOf({ groups: [{ id: 'right', pads: [1] }] });
    const [only, ...others] = releaseForces(scene, 0, { ...top, group: 'right' }, magnet);
    expect(others).toEqual([]);
    // The weldment is turned by a quarter: +x of the part is +y of the cell.
    expect(only!.at.map((x) => Math.round(Math.abs(x)))).toEqual([0, 30, 510]);
  });
});

describe('three kinds of grippers', () => {
  it('give the same verdict for equal pull, friction and pads', () => {
    const cups = vacuumOf();
    const magnet = magnetOf({ pullPerPad: pullPerPad(scene, 0, cups, '+z'), gapFactor: 1 });
    const reserve = (gripper: Gripper, mass: number): number => {
      const heavy = sceneOf({ ...plate, massGiven: mass });
      const { system } = hangingSystem(
        heavy,
        { part: 0, grip: top, gripper, robot },
        heavy.parts[0]!.pose,
        DEFAULT_SETTINGS,
      );
      return judge(programs, system, []).gravity.reserve;
    };
    for (const mass of [1, 3, 6, 9]) expect(reserve(cups, mass)).toBeCloseTo(reserve(magnet, mass), 6);
    // On their faces a jaw and the magnets carry by friction alone: 2 mu F, reduced by 0.75 and 0.6.
    const jaw = jawOf({ stroke: [5, 300], depth: 10, padDiameter: 10 });
    const carried = (2 * 0.2 * 0.75 * 500 * 0.6) / (3 * 9.80665);
    expect(reserve(jaw, 3)).toBeCloseTo(carried, 4);
  });
});

describe('attraction to neighbours', () => {
  const wall = (x: number, material = 'S235'): Part => ({
    ...steelPart('wall', plateShape(100, 60, 8), [x + 4, 0, 30], [90, 0, 90]),
    material: findMaterial(material)!,
  });
  const pulls = (neighbour: Part, gripper: Gripper = magnetOf()) => {
    const near = sceneOf(plate, neighbour);
    return magnetAttraction(near, { part: 0, grip: top, gripper, robot }, [0, 1]);
  };

  it('falls with the gap from the rim of each pad and reaches no farther than is stated', () => {
    // Wall from x = 90 on; the rims of the pads are at x = 50 and -10.
    const found = pulls(wall(90));
    expect(found.map(({ part }) => part)).toEqual([1]);
    expect(found[0]!.gap).toBeGreaterThan(39);
    expect(found[0]!.gap).toBeLessThanOrEqual(40);
    expect(length(found[0]!.force)).toBeCloseTo(600 * gapShare(found[0]!.gap), 6);
    // Toward the pad: the part's -x, the cell's -y.
    expect(found[0]!.force[1]).toBeLessThan(0);
    expect(pulls(wall(90), magnetOf({ attractionDistance: 30 }))).toEqual([]);
    expect(pulls(wall(55)).length).toBe(1);
    expect(length(pulls(wall(55))[0]!.force)).toBeGreaterThan(length(found[0]!.force));
  });

  it('is nothing for what is not magnetic, for other grippers and for the held part itself', () => {
    expect(pulls(wall(60, '1.4301'))).toEqual([]);
    expect(pulls(wall(60), vacuumOf())).toEqual([]);
    expect(magnetAttraction(scene, { part: 0, grip: top, gripper: magnetOf(), robot }, [0])).toEqual([]);
  });
});

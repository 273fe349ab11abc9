import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/geometry/vector.js';
import { dot, length } from '../../src/geometry/vector.js';
import { bringingScatter, cutOf, fitPatches } from '../../src/model/fits.js';
import { restPlanes } from '../../src/model/part-rests.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { Shape } from '../../src/model/shape.js';
import { testCell } from '../support/cell.js';
import { jawOf, magnetOf } from '../support/grippers.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

const ANGLE: Shape = { kind: 'angle', length: 300, width: 80, height: 60, thickness: 8 };

/** The parts in a cell whose axes are those of the weldment. */
const sceneOf = (...shapes: readonly { readonly shape: Shape; readonly at: Vec3 }[]) =>
  buildScene(
    {
      ...standWeldment(),
      parts: shapes.map(({ shape, at }, i) => steelPart(`p${i}`, shape, at)),
      joints: [],
    },
    { ...testCell(), weldmentPose: { at: [0, 0, 500], turn: [1, 0, 0, 0, 1, 0, 0, 0, 1] } },
    DEFAULT_SETTINGS,
  );

describe('cut edges', () => {
  const rolledAlong = (shape: Shape, normal: Vec3): boolean =>
    cutOf(sceneOf({ shape, at: [0, 0, 50] }), 0).rolled.some((way) => Math.abs(dot(way, normal)) > 1 - 1e-9);

  it.each<[string, Shape, readonly boolean[]]>([
    ['a plate all around', plateShape(200, 100, 10), [false, false, true]],
    ['an angle at its ends', ANGLE, [false, true, true]],
    ['a flat bar at its ends', { kind: 'flat-bar', length: 90, width: 30, height: 8 }, [false, true, true]],
    ['a block on every side', { kind: 'block', length: 90, width: 30, height: 8 }, [false, false, false]],
  ])('are those of %s', (_, shape, expected) => {
    const axes: readonly Vec3[] = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ];
    expect(axes.map((axis) => rolledAlong(shape, axis))).toEqual(expected);
  });

  it('are none round about a round bar', () => {
    const { rolled } = cutOf(
      sceneOf({ shape: { kind: 'round-bar', length: 100, diameter: 40 }, at: [0, 0, 50] }),
      0,
    );
    expect(rolled.length).toBeGreaterThan(8);
    expect(Math.max(...rolled.map(([x]) => Math.abs(x)))).toBeLessThan(1e-9);
  });
});

describe('where a part may be off', () => {
  const robot = testCell().handlers[0]!;
  const scene = sceneOf({ shape: ANGLE, at: [0, 0, 50] });

  it('is level on the toes of an angle, across the plane through both of them', () => {
    const toes = restPlanes(ANGLE).find(({ name }) => name.startsWith('toes'))!;
    const grips = [{ gripper: magnetOf(), face: '-z' }];
    const [infeed, pick] = bringingScatter(scene, 0, { robot, rest: toes.name, grips, located: undefined });
    expect(infeed!.source).toBe('infeed');
    expect(length(infeed!.across!)).toBeCloseTo(1, 9);
    expect(dot(infeed!.across!, toes.normal)).toBeCloseTo(1, 9);
    expect(pick!.across).toEqual([0, 0, -1]);
  });

  it('is in any direction in the fingers of a jaw', () => {
    const grips = [{ gripper: jawOf({ slip: 0.4 }), face: '+z' }];
    const [, pick] = bringingScatter(scene, 0, { robot, rest: '-z', grips, located: undefined });
    expect(pick).toEqual({ source: 'pick by jaw', mm: 0.4 });
  });
});

describe('an area where two parts meet', () => {
  it('is one across all pieces of two faces, however the outline of a plate was divided', () => {
    const u: Shape = {
      kind: 'cut-plate',
      thickness: 10,
      outline: [
        [0, 0],
        [300, 0],
        [300, 200],
        [250, 200],
        [250, 50],
        [50, 50],
        [50, 200],
        [0, 200],
      ],
      holes: [],
    };
    const scene = sceneOf(
      { shape: plateShape(600, 400, 10), at: [0, 0, 5] },
      { shape: u, at: [-150, -100, 15] },
    );
    const [area, ...others] = fitPatches(scene, 0, 1);
    expect(others).toEqual([]);
    // From corner to corner of 300 x 200.
    expect(area!.length).toBeCloseTo(Math.hypot(300, 200), 6);
  });
});

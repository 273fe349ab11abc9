import { describe, expect, it } from 'vitest';
import { place, rotate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { tackShrinkage } from '../../src/mechanics/shrinkage.js';
import { buildScene, type Scene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { DistortionRun } from '../../src/rules/distortion-run.js';
import type { ShrinkingTack } from '../../src/rules/distortion-tacks.js';
import { testCell } from '../support/cell.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

/** A floor, two walls on it and a lid between their tops, eight tenths of a millimetre from each. */
const [FLOOR, LEFT, RIGHT, LID] = [0, 1, 2, 3];
const GAP = 0.8;
const [INNER, HEIGHT, THICK, LONG] = [100, 120, 8, 200];
/** The lid's lower edge, above the floor. */
const LID_UP = 100;
/** Top of the floor, which stands on the table. */
const TOP = 10;

function box(): Scene {
  const wall = (id: string, side: -1 | 1) =>
    steelPart(
      id,
      plateShape(LONG, HEIGHT, THICK),
      [0, (side * (INNER + THICK)) / 2, TOP + HEIGHT / 2],
      [90, 0, 0],
    );
  const parts = [
    steelPart('floor', plateShape(300, 300, TOP), [0, 0, TOP / 2]),
    wall('left', -1),
    wall('right', 1),
    steelPart('lid', plateShape(LONG, INNER - 2 * GAP, 8), [0, 0, TOP + LID_UP + 4]),
  ];
  return buildScene({ ...standWeldment(), parts }, testCell(), DEFAULT_SETTINGS);
}

const half = Math.SQRT1_2;

function tack(
  { cell: { weldmentPose } }: Scene,
  a: number,
  b: number,
  at: Vec3,
  open: Vec3,
  gap = 0,
): ShrinkingTack {
  const turned = (v: Vec3): Vec3 => rotate(weldmentPose.turn, v);
  return {
    ...{
      id: `${a}-${b} ${open.join(' ')}`,
      seam: `${a}-${b} ${open.join(' ')}`,
      a,
      b,
      at: place(weldmentPose, at),
    },
    ...{
      along: turned([1, 0, 0]),
      open: turned(open),
      length: 40,
      leg: 4,
      gap,
      seamLength: LONG,
      type: 'fillet',
    },
  };
}

/** At the foot of a wall, from within or from without. */
const footTack = (scene: Scene, side: -1 | 1, from: 'within' | 'without'): ShrinkingTack => {
  const [y, way] = from === 'within' ? [INNER / 2, -side] : [INNER / 2 + THICK, side];
  return tack(scene, FLOOR, side < 0 ? LEFT : RIGHT, [0, side * y, TOP], [0, way * half, half]);
};

/** Under the lid, at a wall: its root is on the lid's edge. */
const lidTack = (scene: Scene, side: -1 | 1): ShrinkingTack =>
  tack(
    scene,
    side < 0 ? LEFT : RIGHT,
    LID,
    [0, side * (INNER / 2 - GAP), TOP + LID_UP],
    [0, -side * half, -half],
    GAP,
  );

const lean = tackShrinkage(
  { type: 'fillet', leg: 4, length: 40, tributary: LONG, thicknessA: TOP, thicknessB: TOP },
  { transverse: 1, longitudinal: 1, angular: 1 },
);

function gapsAfter(first: 'within' | 'without', second?: 'within' | 'without'): readonly number[] {
  const scene = box();
  const run = new DistortionRun(scene, DEFAULT_SETTINGS);
  run.join(FLOOR);
  for (const side of [-1, 1] as const) {
    run.join(side < 0 ? LEFT : RIGHT);
    run.lay(footTack(scene, side, first));
    if (second) run.lay(footTack(scene, side, second));
  }
  run.join(LID);
  return ([-1, 1] as const).map((side) => run.opening(lidTack(scene, side)));
}

describe('a box', () => {
  it('opens at its lid past what can be tacked when the walls are tacked from without first, by angle times height', () => {
    const opened = GAP + LID_UP * lean.angular + lean.transverse * half;
    expect(opened).toBeGreaterThan(standWeldment().fitUp.gap);
    for (const gap of gapsAfter('without')) expect(gap).toBeCloseTo(opened, 2);
  });

  it('closes at its lid when they are tacked from within first', () => {
    const closed = GAP - LID_UP * lean.angular - lean.transverse * half;
    for (const gap of gapsAfter('within')) expect(gap).toBeCloseTo(closed, 2);
  });

  it('keeps nearly its gap when each wall is tacked from both sides, nearer to the side that came first', () => {
    const within = gapsAfter('within', 'without').reduce((sum, gap) => sum + gap);
    const without = gapsAfter('without', 'within').reduce((sum, gap) => sum + gap);
    expect(Math.abs(within - 2 * GAP)).toBeLessThan(0.5);
    expect(Math.abs(without - 2 * GAP)).toBeLessThan(0.5);
    expect(within).not.toBeCloseTo(without, 3);
  });
});

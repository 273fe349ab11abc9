import { place, rotate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { buildScene, type Scene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS, type Settings } from '../../src/model/settings.js';
import type { Part } from '../../src/model/weldment.js';
import { DistortionRun, runStage, type DistortionStage } from '../../src/rules/distortion-run.js';
import type { ShrinkingTack } from '../../src/rules/distortion-tacks.js';
import { testCell } from './cell.js';
import { plateShape, standWeldment, steelPart } from './stand-weldment.js';

/** A base plate, clamped, and a part on it, in the test cell. */
export const onBase = (part: Part, settings: Settings = DEFAULT_SETTINGS): Scene =>
  buildScene(
    {
      ...standWeldment(),
      parts: [steelPart('base', plateShape(800, 300, 10), [0, 0, 5]), part],
      joints: [],
      needs: [],
    },
    testCell(),
    settings,
  );

/** An upright plate along x on the base. */
export const tee = (length: number, height: number, thickness: number): Scene =>
  onBase(steelPart('wall', plateShape(length, height, thickness), [0, 0, 10 + height / 2], [-90, 0, 0]));

/** A fillet tack between the base and the part on it; places and directions in the weldment frame. */
export function footTack(id: string, seam: string, at: Vec3, along: Vec3, out: Vec3): ShrinkingTack {
  const frame = testCell().weldmentPose;
  const turned = (v: Vec3): Vec3 => rotate(frame.turn, v);
  const half = Math.SQRT1_2;
  return {
    ...{ id, seam, a: 0, b: 1, at: place(frame, at), along: turned(along) },
    open: turned([half * out[0], half * out[1], half]),
    ...{ length: 25, leg: 3, gap: 0, seamLength: 600, type: 'fillet' },
  };
}

/** Tacks at these places along an upright plate, on its left (`l`, +y) or right side. */
export const sideTacks = (side: 'l' | 'r', thickness: number, places: readonly number[]): ShrinkingTack[] =>
  places.map((x) => {
    const out = side === 'l' ? 1 : -1;
    return footTack(`${side}${x}`, side, [x, (out * thickness) / 2, 10], [1, 0, 0], [0, out, 0]);
  });

/** The part on the base with its tacks, held by nobody. */
export const standing = (completing: readonly ShrinkingTack[]): DistortionStage => ({
  part: 1,
  holds: [],
  securing: [],
  completing,
  heldOn: false,
});

/** The base on the table, before the part on it comes. */
export function withBase(scene: Scene, settings: Settings = DEFAULT_SETTINGS): DistortionRun {
  const run = new DistortionRun(scene, settings);
  runStage(run, { part: 0, holds: [], securing: [], completing: [], heldOn: false });
  return run;
}

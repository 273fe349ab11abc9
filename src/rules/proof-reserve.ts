import type { LinearPrograms } from '../algorithms/linear-program.js';
import { scale } from '../geometry/vector.js';
import { BEYOND_DOUBT, prepare } from '../mechanics/equilibrium.js';
import { FACTOR_CAP } from '../mechanics/equilibrium-program.js';
import { movedDisturbance } from '../mechanics/moved-system.js';
import { padsInCell } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { hangingSystem, type HeldPart } from './assembly.js';

/**
 * How many times a gripper could pull at a part in its final place with `force` (N), away from it, before it comes
 * off: the pads carry the part's weight as well. Solved from nothing; undefined where it is surely as much as `enough`.
 */
export function proofReserve(
  programs: LinearPrograms,
  scene: Scene,
  held: HeldPart,
  force: number,
  settings: Settings,
  enough = Infinity,
): number | undefined {
  const { part, grip, gripper } = held;
  const { pose, part: own } = scene.parts[part]!;
  const { pads, into } = padsInCell(own.shape, pose, grip, gripper);
  const { system, frame } = hangingSystem(scene, held, pose, settings);
  const share = scale(into, force / pads.length);
  const load = { name: 'proof pull', forces: pads.map(({ at }) => ({ body: 0, force: share, at })) };
  const judge = prepare(programs, system, [movedDisturbance(load, frame)], { cold: true });
  try {
    const wanted = enough * (1 + BEYOND_DOUBT);
    const sure = wanted <= FACTOR_CAP && judge.leastDisturbance(0, wanted) >= wanted;
    return sure ? undefined : judge.disturbance(0).reserve;
  } finally {
    judge.dispose();
  }
}

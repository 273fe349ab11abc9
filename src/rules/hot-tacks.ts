import { tackHeat, type TackHeat } from '../mechanics/tack-cooling.js';
import type { Cell } from '../model/cell.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { LaidTack } from './assembly.js';
import type { TouchedTack } from './load-cases.js';

type Joined = Pick<LaidTack, 'a' | 'b'>;

/** A tack between two parts so many seconds after its arc; the thinner part counts. */
export const heatOf = (scene: Scene, { a, b }: Joined, seconds: number, settings: Settings): TackHeat =>
  tackHeat(
    seconds,
    Math.min(scene.parts[a]!.thickness, scene.parts[b]!.thickness),
    settings.tacks['cooling-constant'],
  );

/** A tack as statics sees it so many seconds after its arc. */
export const hotTack = <T extends LaidTack>(
  scene: Scene,
  tack: T,
  seconds: number,
  settings: Settings,
): T => ({ ...tack, hot: heatOf(scene, tack, seconds, settings).factor });

/**
 * Seconds since the arc of the last securing tack when a part is let go: crater and gas, then, with the torch away, what it
 * is held on for.
 */
export const secondsAtLetGo = ({ process }: Cell): number => process.endSeconds + process.coolingSeconds;

/** Seconds that laying a tack takes at least: the arc at the fastest speed of the process, its start and its end. */
function leastSeconds({ process }: Cell, length: number): number {
  const others = Object.values(process.positions ?? {}).flatMap((change) => change?.speed ?? []);
  return process.startSeconds + length / Math.max(process.speed, ...others) + process.endSeconds;
}

/**
 * The tacks of a stage as the last of them is laid and its torch is free to leave: it has had the time of the crater and the
 * gas that follows, each earlier one of the same torch at least the arcs since then.
 */
export function tacksAsLaid(
  scene: Scene,
  tacks: readonly TouchedTack[],
  settings: Settings,
): readonly LaidTack[] {
  let seconds = scene.cell.process.endSeconds;
  const hot: LaidTack[] = [];
  for (const { tack } of [...tacks].reverse()) {
    hot.unshift(hotTack(scene, tack, seconds, settings));
    seconds += leastSeconds(scene.cell, tack.length);
  }
  return hot;
}

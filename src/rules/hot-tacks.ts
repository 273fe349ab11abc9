import { tackHeat, type TackHeat } from '../mechanics/tack-cooling.js';
import type { Cell } from '../model/cell.js';
import { thicknessUnder } from '../model/group.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { LaidTack } from './assembly.js';
import type { TouchedTack } from './load-cases.js';

/** Seconds for which the arc of a tack burns at least: at the fastest speed of the process. */
function arcSeconds({ process }: Cell, length: number): number {
  const others = Object.values(process.positions ?? {}).flatMap((change) => change?.speed ?? []);
  return length / Math.max(process.speed, ...others);
}

/** A tack between two parts so many seconds after its arc; the thinner part counts. */
export const heatOf = (
  { parts, cell }: Scene,
  tack: Pick<LaidTack, 'a' | 'b' | 'at' | 'along' | 'length'>,
  seconds: number,
  settings: Settings,
): TackHeat =>
  tackHeat(
    seconds,
    {
      thinner: Math.min(...[tack.a, tack.b].map((part) => thicknessUnder(parts[part]!, tack))),
      arcSeconds: arcSeconds(cell, tack.length),
    },
    settings.tacks['cooling-constant'],
  );

/** A tack as statics sees it so many seconds after its arc. */
export const hotTack = <T extends LaidTack>(
  scene: Scene,
  tack: T,
  seconds: number,
  settings: Settings,
): T => ({ ...tack, hot: heatOf(scene, tack, seconds, settings).factor });

/** Seconds since its arc when the torch draws back from a tack: crater and gas, and a look whether the wire is frozen. */
export const secondsAsLeft = ({ process, times }: Cell): number => process.endSeconds + times.wireCheck;

/** Seconds since the arc of the last securing tack when a part is let go: with the torch away, it is held on to cool. */
export const secondsAtLetGo = (cell: Cell): number => secondsAsLeft(cell) + cell.process.coolingSeconds;

/** The tacks of a stage as a torch draws back from the last of them; each earlier one of that torch is older by what came since. */
export function tacksAsLaid(
  scene: Scene,
  tacks: readonly TouchedTack[],
  settings: Settings,
): readonly LaidTack[] {
  const { cell } = scene;
  let seconds = secondsAsLeft(cell);
  const hot: LaidTack[] = [];
  for (const { tack } of [...tacks].reverse()) {
    hot.unshift(hotTack(scene, tack, seconds, settings));
    seconds += cell.process.startSeconds + arcSeconds(cell, tack.length) + secondsAsLeft(cell);
  }
  return hot;
}

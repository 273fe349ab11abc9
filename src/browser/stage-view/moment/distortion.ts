import { compose, NO_TURN, type Pose } from '../../../geometry/pose.js';
import { length, scale } from '../../../geometry/vector.js';
import type { PageData, PageMoved } from '../../../report/page/page-data.js';
import { turnAround } from './poses.js';

/** How one part is predicted to be moved. */
export type Moved = PageMoved['parts'][number];

/** What is predicted for each part at a moment, by its index; undefined before the first prediction for it. */
export function movedAt(
  { distortion }: Pick<PageData, 'distortion'>,
  time: number,
): readonly (Moved | undefined)[] {
  const found: (Moved | undefined)[] = [];
  for (const { time: from, parts } of distortion) {
    if (from > time + 1e-6) break;
    for (const moved of parts) found[moved.part] = moved;
  }
  return found;
}

/** How a part is moved out of its nominal place, so many times as far as predicted; undefined of one that is not. */
export function exaggerated(moved: Moved | undefined, factor: number): Pose | undefined {
  if (!moved || factor === 0) return undefined;
  const angle = length(moved.turn) * factor;
  const shift: Pose = { at: scale(moved.move, factor), turn: NO_TURN };
  return angle === 0
    ? shift
    : compose(shift, turnAround(moved.about, scale(moved.turn, factor / angle), angle));
}

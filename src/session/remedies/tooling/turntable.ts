import { isPhysical } from '../position/out-of-reach.js';
import type { Change } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';
import { stuckParts, type Trouble } from '../trouble.js';

/** Index angles that are tried, fewest first. */
const ANGLES = [
  [0, 180],
  [0, 90],
  [0, 90, 180, 270],
];
/** Degrees/s and degrees/s2 of a table of this kind (our estimate; to be measured). */
const MOTION = { speed: 45, acceleration: 30 };

/** A work table that turns between stages, so that seams and places come round to the arms. */
export function turningTable(trouble: Trouble): readonly Ladder[] {
  if (trouble.cell.stations.table.turntable !== undefined) return [];
  if (stuckParts(trouble, 'no-securing').length === 0 && !isPhysical(trouble)) return [];
  const changes = ANGLES.map((angles, i): Change => ({
    words: `let the work table turn between stages, to ${angles.join(', ')} deg`,
    edits: [{ file: 'cell', path: ['stations', 'table', 'turntable'], to: { angles, ...MOTION } }],
    size: (i + 1) / ANGLES.length,
  }));
  return [{ kind: 'turning-table', cost: 'tooling', changes, monotone: false }];
}

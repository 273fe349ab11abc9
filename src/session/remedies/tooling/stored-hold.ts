import { missesOf, type Trouble } from '../trouble.js';
import { singleChange } from '../number-ladder.js';
import type { Edit } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';

/** A gripper that keeps its part through a loss of power as long as the settings ask for. */
export function storedHold(trouble: Trouble): readonly Ladder[] {
  const misses = missesOf(trouble).filter(
    ({ code }) => code === 'kept-too-briefly' || code === 'falls-without-power',
  );
  const named = new Set(misses.flatMap(({ subjects }) => subjects));
  const asked = trouble.settings.loads['power-loss-seconds'];
  return Object.entries(trouble.cell.grippers)
    .filter(([id]) => named.has(id))
    .map(([id, gripper]) => {
      const edit = (key: 'on-power-loss' | 'stored-seconds', to: unknown): Edit => ({
        ...{ file: 'cell', path: ['grippers', id, key], to },
        ...(gripper[key] !== undefined && { from: gripper[key] }),
      });
      return singleChange('stored-hold', 'tooling', {
        words: `let ${id} keep its part for ${asked} s without power`,
        edits: [edit('on-power-loss', 'stored-seconds'), edit('stored-seconds', asked)],
      });
    });
}

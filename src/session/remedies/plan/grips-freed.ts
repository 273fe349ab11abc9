import { counted } from '../../../report/numbers.js';
import { singleChange } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { stuckParts, type Trouble } from '../trouble.js';

/** Lets a part that cannot be brought be taken by any grip, where the file allows only those that it lists. */
export const gripsFreed = (trouble: Trouble): readonly Ladder[] =>
  stuckParts(trouble, 'no-handling', 'no-securing', 'no-accuracy').flatMap((part) => {
    const grips = trouble.weldment.parts[part]?.grips;
    if (grips === undefined) return [];
    return [
      singleChange('grips-freed', 'plan', {
        words: `let ${part} be taken by any grip of any gripper, not only by the ${counted(grips.length, 'grip')} of the file`,
        edits: [{ file: 'weldment', path: ['parts', part, 'grips'], from: grips }],
      }),
    ];
  });

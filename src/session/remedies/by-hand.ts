import { singleChange } from './number-ladder.js';
import type { Edit } from '../../model/tried-remedy.js';
import type { Ladder } from './ladder.js';
import { hasCode, missesOf, stuckParts, type Trouble } from './trouble.js';

/** Reasons for which a person can do no more than a robot, or it is not known that one can. */
const NOT_BY_HAND = ['torch-blocked', 'torch-neck', 'position-not-allowed'];

/** What a part that a person sets must not have in its file. */
const FOR_ROBOTS = ['rest', 'grips', 'approach'] as const;

/**
 * Has a person set a part that robots do not bring or secure. Not where no straight way leads into its place or no torch
 * gets to its seams: whether a person finds one is not known, and a plan would claim it unseen.
 */
export function setByHand(trouble: Trouble): readonly Ladder[] {
  if (hasCode(trouble, ...NOT_BY_HAND) || stuckParts(trouble, 'no-approach').length > 0) return [];
  const codes = ['no-handling', 'no-accuracy', 'no-securing', 'payload', 'not-magnetic'];
  const parts = missesOf(trouble).length === 0 ? [] : stuckParts(trouble, ...codes);
  return parts.flatMap((part) => {
    const given = trouble.weldment.parts[part];
    if (given === undefined || (given.manual !== undefined && given.manual !== false)) return [];
    const removed = FOR_ROBOTS.flatMap((key): Edit[] =>
      given[key] === undefined ? [] : [{ file: 'weldment', path: ['parts', part, key], from: given[key] }],
    );
    return [
      singleChange('set-by-hand', 'by-hand', {
        words: `have a person set, clamp and tack ${part}`,
        edits: [...removed, { file: 'weldment', path: ['parts', part, 'manual'], from: false, to: true }],
        caution: 'whether hand and torch get there is not checked',
      }),
    ];
  });
}

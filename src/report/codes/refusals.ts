import type { CodeTable, CodeWords } from './code-words.js';
import { GRIP_REFUSALS } from './grip-refusals.js';
import { HOLD_REFUSALS } from './hold-refusals.js';
import { PATTERN_REFUSALS } from './pattern-refusals.js';
import { REACH_REFUSALS } from './reach-refusals.js';
import { TACK_REFUSALS } from './tack-refusals.js';

/** Every code by which a candidate is refused. */
export const REFUSALS: CodeTable = {
  ...GRIP_REFUSALS,
  ...REACH_REFUSALS,
  ...TACK_REFUSALS,
  ...HOLD_REFUSALS,
  ...PATTERN_REFUSALS,
};

/** The number of a joint in a code of one. */
const JOINT = /^joint-(\d+)-(?=limit$|jump$)/;

/** The code as tables list it: of the codes of one joint, `joint-N-limit`. */
export const listedCode = (code: string): string => code.replace(JOINT, 'joint-N-');

/** The words of a code in a table, with the number of its joint in the title; undefined for a code that it does not have. */
export function wordsIn(table: CodeTable, code: string): CodeWords | undefined {
  const listed = listedCode(code);
  const words = Object.hasOwn(table, listed) ? table[listed] : undefined;
  const joint = JOINT.exec(code)?.[1];
  return words === undefined || joint === undefined
    ? words
    : { ...words, title: words.title.replace('joint N', `joint ${joint}`) };
}

import type { ObjectiveTerm } from './settings.js';

/** Which of the files of a session is changed. */
export type EditedFile = 'weldment' | 'cell' | 'settings';

/** One value of a file that is changed. Lists are given whole, so that several edits never move one another's entries. */
export interface Edit {
  readonly file: EditedFile;
  /** Keys from the top of the file, and numbers of list entries from 0. */
  readonly path: readonly (string | number)[];
  /** What counts now, defaults filled in; absent where there is nothing. */
  readonly from?: unknown;
  /** What is written instead; absent: the key is taken out. */
  readonly to?: unknown;
}

/**
 * What kind of change costs least, first to last. Our choice: what only the planner is told costs nothing on the floor, an
 * order costs a talk with whoever wished it, tacking parts apart first a place to lay them, moving costs an afternoon, tooling money, a person time with every piece, a
 * joint the consent of whoever designed it; a rule is relaxed last, since somebody must answer for it.
 */
export const COST_CLASSES = [
  'plan',
  'order',
  'sub-assembly',
  'position',
  'tooling',
  'by-hand',
  'joint',
  'relaxed-rule',
] as const;
export type CostClass = (typeof COST_CLASSES)[number];

/** A change of the files that may make a plan possible. */
export interface Change {
  /** As a request to the reader: `let plate lie on +y at the infeed`. */
  readonly words: string;
  readonly edits: readonly Edit[];
  /** Share of the largest change of its kind that is tried, by which changes of one cost class are compared. */
  readonly size: number;
  /** What a person must know, or answer for, before the change is made. */
  readonly caution?: string;
}

/** A change with which a plan was found that passed the rules. */
export interface TriedRemedy extends Change {
  readonly kind: string;
  readonly cost: CostClass;
  /** Of the first plan that was found: each term with its value, in the order in which they count. There may be better ones. */
  readonly objective: readonly { readonly term: ObjectiveTerm; readonly value: number }[];
  /** Smaller changes of its kind whose tries ended before it was decided, so that one of them may do; absent where none did. */
  readonly openBelow?: number;
}

/** What the search for remedies did. */
export interface RemedySearch {
  /** Cheapest first. */
  readonly remedies: readonly TriedRemedy[];
  /** Changed inputs that were tried: planned, unless the reasons are proved to stand against them as before. */
  readonly tries: number;
  /** Tries of two changes at once, among these; absent where none were made. */
  readonly pairs?: number;
  /** Tries that ended with their steps, so that there may be a plan; absent where none did. */
  readonly open?: number;
  /** Steps of a search that a try had. */
  readonly steps: number;
  /** The kinds of change that were tried, in that order, also those that did not help. */
  readonly kinds: readonly string[];
  /** Why it ended before all was tried; absent: all was, or enough was found. */
  readonly cutBy?: 'tries' | 'seconds' | 'stop';
}

import type { RuleWords } from './rule.js';

/** Judged before the rules of either kind of plan, by whoever has the files. */
export const INPUTS_TRUE: RuleWords = {
  id: 'inputs-true',
  forbids: 'a plan for another weldment or cell than the files given, or for an earlier state of them',
  why: 'a plan is legal for the very parts and the very cell that it was made for; a digest shows that they are the same',
};

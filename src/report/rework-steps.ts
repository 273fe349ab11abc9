import type { Step } from '../model/plan.js';

/** The steps that run only when what their step accepts is reported bad; empty for a step that has no such branch. */
export const reworkOf = (step: Step): readonly Step[] =>
  'rework' in step && Array.isArray(step.rework) ? (step.rework as readonly Step[]) : [];

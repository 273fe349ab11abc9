import { differenceOf, type PlanDifference } from '../explain/difference/difference.js';
import { readPlan } from '../io/read-plan.js';
import type { Issue } from '../model/issue.js';
import type { Source } from './inputs.js';

/** How plan B differs from plan A, or the issues of what could not be read. */
export type CompareOutcome =
  | { readonly kind: 'compared'; readonly difference: PlanDifference }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] };

/** Compares two plan documents of any kind; neither is judged, see `checkPlan`. */
export function comparePlans(a: Source, b: Source): CompareOutcome {
  const read = [a, b].map(({ text, name }) => readPlan(text, name));
  const [one, other] = read;
  if (!one?.value || !other?.value)
    return { kind: 'bad-input', issues: read.flatMap(({ issues }) => issues) };
  return { kind: 'compared', difference: differenceOf(one.value, other.value) };
}

import type { DeepestParts } from '../../model/deepest-parts.js';
import type { Plan } from '../../model/plan.js';
import type { ObjectiveTerm } from '../../model/settings.js';
import { searchedWorth, type Worth } from './price.js';

/** Terms of the objective, the first of which counts most. */
export type Terms = readonly { readonly term: ObjectiveTerm; readonly value: number }[];

/** What is known of plans of which the budget ended before one was found. */
export interface Open {
  /** States looked at, and those still waiting where they are counted. */
  readonly states: number;
  readonly waiting?: number;
  /** What no such plan does better than, compared term by term. */
  readonly bound: Terms;
  /** How far the search got; of a weldment with shapes. */
  readonly deepest?: DeepestParts;
}

/** What says something of plans that were not found. */
export type OpenVerdict =
  /** Each of them costs more than the plan by `atLeast` of a term, or more of a term that counts before it. */
  | ({
      readonly kind: 'dearer';
      readonly given: Worth;
      readonly atLeast: Terms[number];
      /** What counts is the plan before its tacks were put in an order that distorts less: no proof speaks of that order. */
      readonly searched?: true;
    } & Open)
  /** Whether they cost more is not proved. */
  | ({ readonly kind: 'open'; readonly given: Worth } & Open)
  /** Nothing is known but that the budget ended. */
  | { readonly kind: 'unknown'; readonly states: number };

/** Which is more, an earlier term counting before a later: below 0 where the second is. */
function compareTerms(a: Terms, b: Terms): number {
  const place = a.findIndex(({ value }, i) => b[i] === undefined || value !== b[i].value);
  return place < 0 ? 0 : a[place]!.value - (b[place]?.value ?? 0);
}

/** The terms up to the first that has no number. */
function finite(terms: Terms): Terms {
  const end = terms.findIndex(({ value }) => !Number.isFinite(value));
  return end < 0 ? terms : terms.slice(0, end);
}

/** What a search that ended without a plan says of the plan given. Whatever is proved of all plans is true of the others too. */
export function openVerdict(given: Plan, { bound: own, ...found }: Open): OpenVerdict {
  const worth = searchedWorth(given);
  const ofAll: Terms = worth.objective.map(({ term, bound }) => ({ term, value: bound }));
  const said = finite(own);
  const bound = compareTerms(said, ofAll.slice(0, said.length)) > 0 ? said : ofAll;
  const place = bound.findIndex(({ value }, i) => value !== worth.objective[i]!.value);
  const more = place < 0 ? 0 : bound[place]!.value - worth.objective[place]!.value;
  const open = { bound, ...found, given: worth };
  if (more > 0) {
    const searched = given.proof.beforeReordering ? ({ searched: true } as const) : {};
    return { kind: 'dearer', atLeast: { term: bound[place]!.term, value: more }, ...searched, ...open };
  }
  const nothing = bound.every(({ value }) => value === 0) && (found.deepest?.left.length ?? 0) === 0;
  return nothing ? { kind: 'unknown', states: found.states } : { kind: 'open', ...open };
}

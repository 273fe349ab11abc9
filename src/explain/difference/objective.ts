import type { Plan } from '../../model/plan.js';
import type { Sides } from './sides.js';

type Entry = Plan['objective'][number];
export type Term = Entry['term'];

/** A term in which two plans differ. */
export interface TermDifference {
  readonly term: Term;
  /** Values; null where the objective of that plan does not name the term. */
  readonly a: number | null;
  readonly b: number | null;
  /** Which one is better: has less. */
  readonly better: 'a' | 'b' | 'neither';
  /** By how much, in the unit of the term; null where one of them does not name it. */
  readonly by: number | null;
}

export interface ObjectiveDifference {
  /** Terms that differ: in the order of A, then what only B names. */
  readonly terms: readonly TermDifference[];
  /** Which plan is better as a whole, an earlier term counting before a later; `unlike` where the objectives name other terms or name them in another order. */
  readonly better: 'a' | 'b' | 'equal' | 'unlike';
  /** The leading terms that each plan claims as proved least. */
  readonly proved: Sides<readonly Term[]>;
}

const valueOf = (plan: Plan, term: Term): number | null =>
  plan.objective.find((entry) => entry.term === term)?.value ?? null;

function termDifference(term: Term, a: number | null, b: number | null): TermDifference {
  if (a === null || b === null) return { term, a, b, better: 'neither', by: null };
  return { term, a, b, better: a < b ? 'a' : b < a ? 'b' : 'neither', by: Math.abs(a - b) };
}

/** The objectives of two plans, term by term and as a whole. */
export function objectiveDifference(a: Plan, b: Plan): ObjectiveDifference {
  const named = (plan: Plan): Term[] => plan.objective.map(({ term }) => term);
  const unlike = named(a).join() !== named(b).join();
  const terms = [...new Set([...named(a), ...named(b)])]
    .map((term) => termDifference(term, valueOf(a, term), valueOf(b, term)))
    .filter((one) => one.a !== one.b);
  const first = terms[0]?.better;
  const better = unlike ? 'unlike' : first === undefined || first === 'neither' ? 'equal' : first;
  return { terms, better, proved: { a: a.proof.provedTerms, b: b.proof.provedTerms } };
}

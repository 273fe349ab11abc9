import type { Worth } from '../explain/why/price.js';
import { termName, termText } from './claim-text.js';
import { listed } from './numbers.js';

/** What a plan is worth and what of that is proved least. */
export function worthText({ objective, provedTerms }: Worth): string {
  const values = objective.map(({ term, value }) => termText(term, value)).join(', ');
  if (provedTerms.length === objective.length) return `${values} (proved least)`;
  if (provedTerms.length === 0) return `${values} (nothing proved least)`;
  return `${values} (proved least: ${listed(provedTerms.map(termName))})`;
}

import { fail, ok, type Result } from '../base/result.js';
import { objectiveTermSchema, type ObjectiveTerm } from '../model/settings.js';

/** Two different terms of an objective. */
export type TradedTerms = readonly [ObjectiveTerm, ObjectiveTerm];

/** The objective with two terms put first, after the soft wishes where these lead. */
export const ledBy = (terms: TradedTerms, objective: readonly ObjectiveTerm[]): readonly ObjectiveTerm[] => [
  ...objective.filter((term, i) => i === 0 && term === 'wishes'),
  ...terms,
  ...objective.filter((term, i) => !terms.includes(term) && !(i === 0 && term === 'wishes')),
];

/** Terms that can be traded: what is wished is never traded for what is not. */
const TRADED = objectiveTermSchema.exclude(['wishes']);

/** Two terms written as `regrips,distortion`, or what is wrong with what was written. */
export function readTradedTerms(text: string): Result<TradedTerms, string> {
  const names = text.split(',').map((name) => name.trim());
  const terms = names.map((name) => TRADED.safeParse(name).data);
  const unknown = names.find((_, i) => terms[i] === undefined);
  if (unknown !== undefined)
    return fail(`"${unknown}" is no term of an objective; write two of ${TRADED.options.join(', ')}`);
  const [first, second] = terms;
  if (first === undefined || second === undefined || terms.length > 2)
    return fail(`got ${terms.length} terms; write two with a comma between them, as regrips,distortion`);
  return first === second ? fail(`got ${first} twice; write two different terms`) : ok([first, second]);
}

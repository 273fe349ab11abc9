import type { Plan } from '../model/plan.js';
import { objectiveTermSchema, type ObjectiveTerm } from '../model/settings.js';
import { countedTerms } from '../rules/objective-true.js';
import { termName, termText } from './claim-text.js';
import { amount, counted, duration, listed } from './numbers.js';
import { plain } from './plain.js';
import { paragraph, textTable, type Column } from './text-table.js';

/** Plans between two terms, least of the first term first, and how many complete orders they were chosen from. */
export interface TradedPlans {
  readonly terms: readonly [ObjectiveTerm, ObjectiveTerm];
  readonly completed: number;
  readonly plans: readonly Plan[];
}

/** Terms that a plan can be compared by; undefined for distortion where parts have no shapes. */
export function termValue(plan: Plan, term: ObjectiveTerm): number | undefined {
  if (plan.kind === 'geometric') return countedTerms(plan)[term];
  return plan.objective.find((entry) => entry.term === term)?.value;
}

/** A value as a cell of the table. */
function cell(term: ObjectiveTerm, value: number): string {
  if (term === 'time') return duration(value);
  return term === 'distortion' ? `${amount(value / 10, 1)} mm` : amount(value);
}

/** A difference in words: `1 regrip`, `0.4 mm of distortion`, `12 s`. */
const difference = (term: ObjectiveTerm, value: number): string =>
  term === 'distortion' ? `${amount(value / 10, 1)} mm of distortion` : termText(term, value);

/** What the next plan saves of the second term, and what it asks for it of the first. */
function priceText([first, second]: TradedPlans['terms'], from: Plan, to: Plan, number: number): string {
  const step = (term: ObjectiveTerm): number => Math.abs(termValue(to, term)! - termValue(from, term)!);
  return `from plan ${number} to plan ${number + 1}, ${difference(second, step(second))} less for ${difference(first, step(first))} more`;
}

/** What the plans of a trade are, in a sentence. */
export function tradeHead({ terms, completed, plans }: TradedPlans): string {
  const [first, second] = terms.map(termName) as [string, string];
  const among = `among ${counted(completed, 'completed order')}`;
  const claim =
    plans.length === 1
      ? `${among} one plan is best in both; there is nothing to trade`
      : `${among} no other plan is as good in both and better in one`;
  return `Trade of ${first} against ${second}: ${claim}.`;
}

/** What each plan of a trade costs against the one before it; empty where there is one only. */
export function tradePrices({ terms, plans }: TradedPlans): string {
  const prices = plans.slice(1).map((plan, i) => priceText(terms, plans[i]!, plan, i + 1));
  return prices.length === 0 ? '' : `${listed(prices)}.`;
}

/**
 * The non-dominated plans between two terms as a table with their prices. `chosen` is the plan that was asked for; it is
 * marked where it is among them.
 */
export function tradeText(trade: TradedPlans, chosen: Plan): string {
  const { terms, plans } = trade;
  const shown = [...terms, ...objectiveTermSchema.options.filter((term) => !terms.includes(term))].filter(
    (term) => plans.every((plan) => termValue(plan, term) !== undefined),
  );
  const heads: Column[] = [
    { title: 'plan', most: 6 },
    ...shown.map((term): Column => ({ title: termName(term), most: 14, side: 'right' })),
    { title: 'order of parts', most: 30 },
  ];
  const rows = plans.map((plan, i) => [
    `${i + 1}${plan === chosen ? ' *' : ''}`,
    ...shown.map((term) => cell(term, termValue(plan, term)!)),
    plan.stages.map(({ part }) => plain(part)).join(', '),
  ]);
  const head = tradeHead(trade);
  const colon = head.indexOf(': ') + 2;
  const [start, rest] = [head.slice(0, colon), head.slice(colon)];
  const prices = tradePrices(trade);
  const lines = [
    ...paragraph(start, rest),
    ...textTable(heads, rows, '  '),
    ...(plans.includes(chosen) ? ['  * the plan above'] : []),
    ...(prices === '' ? [] : paragraph('Prices: ', prices)),
  ];
  return `${lines.join('\n')}\n`;
}

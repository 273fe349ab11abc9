import type { PlanHead, Proof } from '../../../model/plan.js';
import { claimText, termName, termText } from '../../claim-text.js';
import { amount } from '../../numbers.js';
import { wishLines } from '../../wish-text.js';
import { html, table, text, type Cell } from '../html.js';
import type { PageContext } from '../page-context.js';
import { textList, valued } from '../pieces.js';
import { stageOverview } from '../stage-overview.js';

type Term = PlanHead['objective'][number];

/** How far a value is above its bound: as a share where it has one. */
function gapText({ term, value, bound }: Term): string {
  if (value === bound) return 'none';
  if (bound <= 0) return 'no bound';
  const share = `${amount(Math.ceil(((value - bound) / bound) * 100 - 1e-9))}%`;
  return term === 'time' ? share : `${termText(term, value - bound)}, ${share}`;
}

function termRow(one: Term, place: number, { provedTerms }: Proof): readonly Cell[] {
  const { term, value, bound } = one;
  const proved = place < provedTerms.length;
  return [
    termName(term),
    { html: valued(value, termText(term, value)) },
    // Without a proof of the terms before it, a bound still holds of plans with the same values of these.
    { html: valued(bound, bound <= 0 && value > 0 ? 'no bound' : termText(term, bound)) },
    gapText(one),
    proved ? 'proved least' : place === provedTerms.length ? 'not proved' : 'no claim',
  ];
}

function objectiveTable({ objective, proof }: Pick<PlanHead, 'objective' | 'proof'>): string {
  return table({
    caption:
      'What the plan is judged by, the most important first: an earlier term is never given up for a later one',
    heads: ['Term', 'This plan', 'None can be below', 'Gap', 'Proof'],
    rows: objective.map((one, place) => ({ cells: termRow(one, place, proof) })),
  });
}

/** The objective term by term, with its bound, what was proved of it and the wishes; then the stages with reasons. */
export function whatIsProved(context: PageContext): string {
  const { plan } = context;
  const wishes = wishLines(plan);
  return [
    html('p', { class: 'claim' }, text(claimText(plan))),
    plan.objective.length === 0 ? '' : objectiveTable(plan),
    wishes.length === 0 ? '' : html('h3', {}, text('Wishes')) + textList(wishes),
    html('h3', {}, text('The stages, and why')),
    stageOverview(context),
    html(
      'p',
      { class: 'faint' },
      text('What the proof does not cover stands at the end of the page: '),
      html('a', { href: '#small-print' }, text('What lies behind it')),
      text('.'),
    ),
  ].join('');
}

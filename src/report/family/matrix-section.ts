import type { MatrixField, PlanFigures, VariantResult } from '../../model/family-result.js';
import { extraText, limitsText, valuesText } from '../family-claim-text.js';
import { termName } from '../claim-text.js';
import { amount, counted, duration, listed, reserveText, tenthsOf } from '../numbers.js';
import { html, table, text, type Cell } from '../page/html.js';
import { plain } from '../plain.js';
import type { FamilyView } from './family-view.js';
import { shortLimit } from './limit-words.js';

/** Patterns that have a column at most, the chosen ones always; the table of values beside the page has all. */
const MOST_COLUMNS = 8;

const OWN_NONE: Readonly<Record<VariantResult['outcome'], string>> = {
  planned: '',
  impossible: 'no plan exists',
  'none-found': 'none found in the budget',
  'bad-input': 'weldment has errors',
};

/** Time, and below it regrips and the least reserve. */
const figuresHtml = (figures: PlanFigures, time: string, beyond: string | undefined): string => {
  const { regrips, leastReserve: least } = figures;
  const reserve =
    least === null ? '' : `, reserve ${reserveText(least.reserve)} of ${amount(least.required, 2)}`;
  return time + note(`${counted(regrips, 'regrip')}${reserve}`) + (beyond === undefined ? '' : note(beyond));
};

/** Its own best plan, or what stops it. */
function ownCell({ own, outcome, reasons }: VariantResult): Cell {
  if (own !== null)
    return {
      html: figuresHtml(own, html('b', {}, text(duration(tenthsOf(own.seconds)))), undefined),
      attributes: {
        title:
          own.proved.length === 0
            ? 'nothing is proved least'
            : `proved least: ${listed(own.proved.map(termName))}`,
      },
    };
  const words = OWN_NONE[outcome];
  return {
    html: mark('no', 'none') + note(reasons.length === 0 ? words : `${words}: ${shortLimit(reasons)}`),
    attributes: { title: limitsText(reasons) },
  };
}

const note = (words: string): string => html('span', { class: 'note' }, text(words));

/** A sign and its word: what colour says is said twice. */
const mark = (kind: 'built' | 'fits' | 'no', words: string): string =>
  html('span', { class: `mark ${kind}` }, text(`${{ built: '●', fits: '○', no: '×' }[kind]} ${words}`));

/** How a pattern does with a variant. */
function patternCell(field: MatrixField | undefined, built: boolean): Cell {
  if (field === undefined) return { html: note('not tried') };
  const { fits, figures, extra, reasons } = field;
  if (!fits || figures === null)
    return { html: mark('no', 'no') + note(shortLimit(reasons)), attributes: { title: limitsText(reasons) } };
  const time = duration(tenthsOf(figures.seconds));
  const beyond = extraText(extra);
  return {
    html: figuresHtml(
      figures,
      mark(built ? 'built' : 'fits', time),
      beyond === 'nothing' ? 'as its own best' : beyond,
    ),
  };
}

function matrixTable(view: FamilyView, variants: readonly VariantResult[], caption: string): string {
  const columns = [...view.chosen, ...view.others].slice(0, Math.max(MOST_COLUMNS, view.chosen.length));
  return table({
    caption,
    heads: [
      ...['Variant', 'Own best plan'],
      ...columns.map(({ id }): Cell => ({ html: html('a', { href: `#pattern-${id}` }, text(plain(id))) })),
    ],
    rows: variants.map((variant) => ({
      cells: [
        { html: text(plain(variant.name)) + note(valuesText(variant.values)) },
        ownCell(variant),
        ...columns.map(({ id }) =>
          patternCell(view.field(variant.name, id), view.builtBy(variant.name) === id),
        ),
      ],
      attributes: view.result.covering.uncovered.includes(variant.name) ? { class: 'unbuilt' } : {},
    })),
  });
}

/** Variants against patterns: what builds what, in what time, at what cost beyond the own best plan. */
export function matrixSection(view: FamilyView): string {
  const { ordered, places, result } = view;
  const total = result.patterns.length;
  const shown = Math.min(total, Math.max(MOST_COLUMNS, view.chosen.length));
  const legend =
    '● builds the variant, ○ would do too, × does not. With each time stand the regrips, the least reserve of what is required, and what the pattern costs beyond the own best plan of the variant. What stops a pattern is told in full with it.';
  const left = total > shown ? ` ${amount(total - shown)} more patterns stand in matrix.csv.` : '';
  return [
    html('p', { class: 'legend' }, text(`${legend}${left}`)),
    matrixTable(view, ordered, 'Variants against patterns; the chosen ones come first'),
    places.length === 0
      ? ''
      : matrixTable(view, places, 'The ends and the middle of the ranges, planned as variants of their own'),
  ].join('');
}

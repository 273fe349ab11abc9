import { termName, termText } from '../../claim-text.js';
import { tradeChart } from '../../trade-chart.js';
import { tradePoints } from '../../trade-points.js';
import { tradeHead, tradePrices } from '../../trade-text.js';
import { pageChart } from '../chart.js';
import { html, table, text } from '../html.js';
import type { PageContext } from '../page-context.js';

/** Plans between two terms, where they were asked for. */
export function tradeSection({ plan, trade }: PageContext): string {
  if (trade === undefined) return '';
  const traded = tradePoints(trade, plan);
  const [first, second] = traded.terms;
  const prices = tradePrices(trade);
  return [
    html('p', {}, text(tradeHead(trade))),
    pageChart(`${termName(first)} against ${termName(second)}`, (across, theme) =>
      tradeChart(traded, across, theme),
    ),
    table({
      caption: 'Plans of the trade, with the order in which their parts join',
      heads: ['plan', termName(first), termName(second), ...traded.others.map(termName), 'order of parts'],
      rows: traded.points.map(({ number, values, others, own, order }) => ({
        cells: [
          number === 0 ? 'this plan' : `${number}${own ? ', this one' : ''}`,
          ...([first, second] as const).map((term, side) => ({
            html: text(termText(term, values[side]!)),
            attributes: { 'data-value': String(values[side]!) },
          })),
          ...others.map((value, i) => termText(traded.others[i]!, value)),
          order,
        ],
      })),
    }),
    prices === '' ? '' : html('p', {}, text(`Prices: ${prices}`)),
  ].join('\n');
}

import { rowsChart } from '../../chart-rows.js';
import {
  farthestMoves,
  featuresChart,
  movesChart,
  openingsChart,
  openingsOf,
  type Opening,
} from '../../distortion-chart.js';
import { distortionSummary, factorText } from '../../distortion-text.js';
import { amount } from '../../numbers.js';
import { pageChart } from '../chart.js';
import { html, table, text, type Cell } from '../html.js';
import type { GeometricContext } from '../page-context.js';

/** The predicted distortion against its limits. */
export function distortionSection({ plan, scene }: GeometricContext): string {
  const summary = distortionSummary(plan);
  if (summary === undefined) return '';
  const openings = openingsOf(plan);
  const { gap } = scene.weldment.fitUp;
  const features = featuresChart(plan);
  const moves = movesChart(plan);
  const factors = factorText(plan.distortion, plan.settings.distortion.origin);
  return [
    html('p', {}, text(`A screening estimate: ${summary}.`)),
    factors === '' ? '' : html('p', {}, text(`Shrinkage factors: ${factors}`)),
    features.rows.length === 0
      ? html('p', {}, 'The weldment names no tolerances.')
      : html('h3', {}, 'Tolerances after tacking') +
        pageChart('Tolerances after tacking', (across, theme) => rowsChart(features, across, theme)) +
        featureTable(plan),
    html('h3', {}, 'How far seams stand open'),
    pageChart('How far seams stand open before their tacks', (across, theme) =>
      openingsChart(openings, gap, across, theme),
    ),
    moves.rows.length === 0
      ? ''
      : html('h3', {}, 'How far parts move, stage by stage') +
        pageChart('How far parts move, stage by stage', (across, theme) => rowsChart(moves, across, theme)),
    html(
      'details',
      { class: 'as-table' },
      html('summary', {}, 'Distortion as tables'),
      openingTable(openings, gap),
      moveTable(plan),
    ),
    html(
      'details',
      {},
      html('summary', {}, 'What this estimate assumes'),
      html('ul', {}, ...plan.distortion.assumptions.map((one) => html('li', {}, text(one)))),
    ),
  ].join('\n');
}

const mm = (value: number, digits = 3): Cell => ({
  html: text(amount(value, digits)),
  attributes: { 'data-value': String(value) },
});

function featureTable({ distortion: { features } }: GeometricContext['plan']): string {
  return table({
    caption: 'Tolerances after tacking, mm',
    heads: ['tolerance', 'from', 'to', 'length', 'off', 'allowed', 'of class', 'within'],
    numbers: [3, 4, 5],
    rows: features.map(({ name, from, to, nominal, deviation, limit, class: of, tolerance, within }) => ({
      cells: [
        ...[name, from, to, mm(nominal, 1), mm(deviation), mm(limit)],
        ...[`${of}: +- ${amount(tolerance, 1)}`, within ? 'yes' : 'NO, beyond'],
      ],
    })),
  });
}

function openingTable(openings: readonly Opening[], gap: number): string {
  return table({
    caption: `How far each seam stands open just before its tack, mm; the fit-up gap is ${amount(gap, 3)}`,
    heads: ['tack', 'stage', 'order', 'opening', 'within the fit-up gap'],
    numbers: [1, 2, 3],
    rows: openings.map(({ tack, stage, order, before }) => ({
      cells: [tack, String(stage), String(order), mm(before), before > gap + 1e-9 ? 'NO' : 'yes'],
    })),
  });
}

function moveTable(plan: GeometricContext['plan']): string {
  return table({
    caption: 'Greatest movement of the centre of mass of any part within each stage, mm',
    heads: ['stage', 'part', 'after', 'mm'],
    numbers: [3],
    rows: farthestMoves(plan).map(({ stage, part, after, mm: moved }) => ({
      cells: [String(stage), part, after, mm(moved)],
    })),
  });
}

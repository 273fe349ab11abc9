import { rowsChart, type RowsChart } from '../../chart-rows.js';
import { reserveText } from '../../numbers.js';
import { carriedChart, leastByState, reservesChart } from '../../reserves-chart.js';
import { RESERVE_CAP, RESERVE_STATES } from '../../weakest-point.js';
import { pageChart } from '../chart.js';
import { html, table, text, type Cell } from '../html.js';
import type { GeometricContext } from '../page-context.js';

/** How far every stage is from giving way, against what is required. */
export function reservesSection({ plan }: GeometricContext): string {
  const [inPlace, carried] = [reservesChart(plan), carriedChart(plan)];
  if (inPlace.rows.length === 0 && carried.rows.length === 0) return '';
  return [
    html(
      'p',
      {},
      text(
        `A reserve is the factor by which a load may grow before equilibrium is lost; ${RESERVE_CAP} stands for that or more. ` +
          'Reserves are estimates.',
      ),
    ),
    titled('The least reserve of every stage', inPlace),
    titled('The least reserve while a part is carried', carried),
    html(
      'details',
      { class: 'as-table' },
      html('summary', {}, 'Reserves as a table'),
      reserveTable(plan),
      carriedTable(plan),
    ),
  ].join('\n');
}

const titled = (title: string, chart: RowsChart): string =>
  chart.rows.length === 0
    ? ''
    : html('h3', {}, text(title)) + pageChart(title, (across, theme) => rowsChart(chart, across, theme));

const factor = (value: number): Cell => ({
  html: text(reserveText(value)),
  attributes: { 'data-value': String(value) },
});

function reserveTable({ stages }: GeometricContext['plan']): string {
  const rows = stages.flatMap((stage) =>
    leastByState(stage).map(({ state, case: load, reserve, required, weakest }) => ({
      cells: [
        `${stage.number} ${stage.part}`,
        `${state}: ${RESERVE_STATES[state]}`,
        load,
        factor(reserve),
        factor(required),
        weakest === '' ? '-' : weakest,
      ],
    })),
  );
  return table({
    caption: 'The least reserve of every state of every stage; all load cases are in the CSV tables',
    heads: ['stage', 'state', 'load', 'reserve', 'required', 'gives way first'],
    numbers: [3, 4],
    rows,
  });
}

function carriedTable({ stages }: GeometricContext['plan']): string {
  const rows = stages.flatMap(({ number, part, handling }) =>
    handling.map(({ grip, take, put, carried }) => ({
      cells: [
        `${number} ${part}`,
        `${grip.gripper}, ${take.from} to ${put.to}`,
        carried.case,
        factor(carried.reserve),
        factor(carried.required),
      ],
    })),
  );
  return table({
    caption: 'The least reserve of every way in which a part is carried',
    heads: ['stage', 'gripper and way', 'load', 'reserve', 'required'],
    numbers: [3, 4],
    rows,
  });
}

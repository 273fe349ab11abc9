import { rounded } from '../base/order.js';
import { lineAcross, placed, type Across } from './across.js';
import { amount } from './numbers.js';
import { clipped } from './plain.js';
import { words } from './svg.js';
import { picking, type Role, type Theme } from './theme.js';
import { element, escaped } from './xml.js';

/** A value that a bar is held against. */
export interface ChartLimit {
  readonly at: number;
  /** Dashed, or a plain line. */
  readonly role: 'limit' | 'edge';
}

/** A bar with what it is about above it and its value in words behind it. */
export interface ChartRow {
  readonly label: string;
  readonly value: number;
  /** The value in words, with its limit. */
  readonly told: string;
  readonly limits: readonly ChartLimit[];
  /** Whether the value is on the wrong side of its limit. */
  readonly bad: boolean;
  /** Whether the true value may lie beyond the end of the bar. */
  readonly open: boolean;
  /** See `Pick` of the page, and the second of it. */
  readonly pick?: string;
  readonly at?: number | undefined;
}

export interface RowsChart {
  /** What is measured, with its unit, below the axis. */
  readonly axis: string;
  /** Value at the right end of the plot. */
  readonly most: number;
  readonly rows: readonly ChartRow[];
  /** What the kinds of lines mean. */
  readonly legend: readonly (readonly [ChartLimit['role'], string])[];
}

export interface ChartDrawing {
  readonly content: readonly string[];
  readonly height: number;
}

/** Share of the width that the plot has; the rest is for values behind the bars. */
const PLOT = 0.72;
const ROW = { height: 46, bar: 14, text: 13 } as const;
const LONGEST_LABEL = 84;

/** A round step of an axis with at most about six of them up to a value. */
export function axisStep(most: number): number {
  if (!(most > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(most / 5));
  return [1, 2, 5, 10].map((factor) => factor * power).find((step) => most / step <= 6) ?? most;
}

/** The end of an axis that holds all values: a whole number of its steps. */
export function axisEnd(values: readonly number[]): number {
  const most = Math.max(0, ...values);
  if (most === 0) return 1;
  const step = axisStep(most);
  return rounded(Math.ceil(most / step - 1e-9) * step, 9);
}

/** Values that an axis names. */
export function axisTicks(most: number): number[] {
  const step = axisStep(most);
  return Array.from({ length: Math.floor(most / step + 1e-9) + 1 }, (_, i) => rounded(i * step, 9));
}

/** Horizontal bars against limits of their own. */
export function rowsChart(chart: RowsChart, across: Across, theme: Theme): ChartDrawing {
  const { most, rows, axis, legend } = chart;
  const share = (value: number): number => (PLOT * Math.min(most, value)) / most;
  const bottom = rows.length * ROW.height + 8;
  const small = { ...theme.paint('small'), 'font-size': ROW.text };
  const ticks = axisTicks(most).flatMap((tick) => [
    lineAcross(across, [share(tick), 0], [share(tick), bottom], theme.paint('rule')),
    placed(
      across.at(share(tick)),
      bottom + 16,
      words(0, 0, amount(tick, 6), { ...small, 'text-anchor': tick === 0 ? 'start' : 'middle' }),
    ),
  ]);
  const keys = legend.map(([role, text], i) => {
    const y = bottom + 60 + 20 * i;
    const sample = element('line', { x1: 0, y1: 0, x2: 30, y2: 0, ...theme.paint(role) });
    return placed(across.at(0), y, sample, words(38, 4.5, text, small));
  });
  return {
    content: [
      ...ticks,
      lineAcross(across, [0, bottom], [PLOT, bottom], theme.paint('axis')),
      placed(across.at(0), bottom + 38, words(0, 0, axis, small)),
      ...rows.map((row, i) => rowMark(row, i * ROW.height, share, across, theme)),
      ...keys,
    ],
    height: bottom + 46 + 20 * legend.length + 8,
  };
}

function rowMark(
  row: ChartRow,
  y: number,
  share: (value: number) => number,
  across: Across,
  theme: Theme,
): string {
  const { label, value, told, limits, bad, open, pick, at } = row;
  const top = y + 20;
  const end = share(value);
  const name = `${label}: ${told}`;
  const text = { ...theme.paint(bad ? 'strong' : 'word'), 'font-size': ROW.text };
  const role: Role = bad ? 'beyond' : 'bar';
  return element(
    'g',
    { ...picking(theme, pick, at), 'data-value': String(value) },
    theme.marks === 'picked' ? element('title', {}, escaped(name)) : '',
    element('rect', {
      ...{ x: across.at(0), y: top, width: across.length(end), height: ROW.bar },
      ...theme.paint(role),
    }),
    ...limits.map((limit) =>
      lineAcross(
        across,
        [share(limit.at), top - 2],
        [share(limit.at), top + ROW.bar + 4],
        theme.paint(limit.role),
      ),
    ),
    placed(across.at(0), y, words(0, 14, clipped(label, LONGEST_LABEL), text)),
    placed(
      across.at(Math.max(end, ...limits.map((limit) => share(limit.at)))),
      top,
      open ? element('path', { d: 'M 2 0 L 9 7 L 2 14', ...theme.paint('link') }) : '',
      words(open ? 16 : 8, 11.5, told, text),
    ),
  );
}

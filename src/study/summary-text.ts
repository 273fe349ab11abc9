import { amount, counted } from '../report/numbers.js';
import { plain } from '../report/plain.js';
import { textTable, type Column } from '../report/text-table.js';
import { MEASURED, shareAt, type Profile } from './profile.js';
import type { SolverSummary } from './summary.js';

const right = (title: string): Column => ({ title, most: 12, side: 'right' });

const SUMMARY: readonly Column[] = [
  { title: 'solver', most: 28 },
  ...['rows', 'optimal', 'legal', 'none', 'failed', 'gap mean', 'median', 'worst', 'first s'].map(right),
  right('proof s'),
];

/** Shares as percent with two decimals; `-` for what there is none of. */
const percent = (share: number | undefined): string =>
  share === undefined ? '-' : share === Infinity ? 'inf' : `${amount(100 * share, 2)}%`;
/** Three digits that count. */
const seconds = (value: number | undefined): string =>
  value === undefined ? '-' : amount(value, value < 0.01 ? 5 : value < 1 ? 4 : 2);

/** A line a solver. `to` says to what the gaps are taken. */
export function summaryText(summaries: readonly SolverSummary[], to: string): string {
  const rows = summaries.map(({ solver, rows, optimal, legal, none, failed, gap, ...more }) => [
    plain(solver),
    ...[rows, optimal, legal, none, failed].map((count) => amount(count)),
    ...[gap?.mean, gap?.median, gap?.worst].map(percent),
    ...[more.medianFirst, more.medianProof].map(seconds),
  ]);
  const impossible = summaries.reduce((sum, one) => sum + one.impossible, 0);
  const failures = summaries.reduce((sum, one) => sum + one.failed, 0);
  const unfit = summaries.filter(({ notApplicable }) => notApplicable > 0);
  return [
    ...textTable(SUMMARY, rows),
    '',
    `gap: above ${to}, over the rows with a legal order, in the first term that differs; seconds are medians.`,
    ...(impossible > 0 ? [`proved impossible: ${counted(impossible, 'row')}.`] : []),
    ...(failures > 0
      ? [`failed: ${counted(failures, 'row')}; the column note of the results says why.`]
      : []),
    ...unfit.map(
      ({ solver, notApplicable }) => `${plain(solver)} does not apply to ${counted(notApplicable, 'row')}.`,
    ),
    '',
  ].join('\n');
}

/** Factors that a profile is told at, as a table. */
const FACTORS: readonly number[] = [1, 2, 4, 8, 16, 64, 256, 1024];

/** A performance profile as a table: the share of instances within each factor of the best solver. */
export function profileText(profile: Profile): string {
  const heads: readonly Column[] = [
    { title: 'solver', most: 28 },
    ...FACTORS.map((factor) => right(factor === 1 ? 'best' : `${factor}x`)),
    right('ever'),
  ];
  const rows = profile.curves.map((curve) => [
    plain(curve.solver),
    ...[...FACTORS, Infinity].map((factor) => `${Math.round(100 * shareAt(curve, factor))}%`),
  ]);
  return [
    `Performance profile (Dolan and Moré 2002) over ${counted(profile.instances, 'instance')}, ${MEASURED[profile.measure]}:`,
    'share of the instances on which a solver needs at most this many times what the best one needs',
    ...textTable(heads, rows),
    '',
  ].join('\n');
}

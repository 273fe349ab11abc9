import type { GeometricPlan, PlanTack, Stage } from '../model/plan.js';
import { amount } from './numbers.js';
import { plain } from './plain.js';
import { textTable, type Column } from './text-table.js';

const TACK_COLUMNS: readonly Column[] = [
  { title: 'stage', most: 5, side: 'right' },
  { title: 'while held', most: 46 },
  { title: 'after the let-go', most: 46 },
];

/** A tack by its seam and where on it it lies, mm from the seam's start. */
const tackText = ({ seam, start, length }: PlanTack): string =>
  `${plain(seam)} ${amount(start, 1)}-${amount(start + length, 1)}`;

/** Where every tack goes, a line a stage, in the order in which they are laid. */
export function tackTable({ stages }: Pick<GeometricPlan, 'stages'>): string[] {
  const list = ({ tacks }: Stage, phase: PlanTack['phase']): string =>
    [...tacks]
      .filter((tack) => tack.phase === phase)
      .sort((a, b) => a.order - b.order)
      .map(tackText)
      .join(', ') || '-';
  const rows = stages
    .filter(({ tacks }) => tacks.length > 0)
    .map((stage) => [String(stage.number), list(stage, 'securing'), list(stage, 'completing')]);
  if (rows.length === 0) return [];
  return [
    '',
    'Tacks, in order (seam, and mm from its start; `inspect` shows the seams):',
    ...textTable(TACK_COLUMNS, rows),
  ];
}

const SIGNAL_COLUMNS: readonly Column[] = [
  { title: 'signal', most: 36 },
  { title: 'sent by', most: 28 },
  { title: 'awaited by', most: 28 },
  { title: 'says', most: 40 },
];

/** Every signal: who sends it, who waits for it, and what it says. */
export function signalTable({ handshakes }: Pick<GeometricPlan, 'handshakes'>): string[] {
  if (handshakes.length === 0) return [];
  const rows = handshakes.map(({ id, name, line, from, to, meaning }) => [
    `${plain(id)} ${plain(name)}${line === undefined ? '' : `, line ${line}`}`,
    `${plain(from.robot)} in step ${from.step}`,
    `${plain(to.robot)} in step ${to.step}`,
    plain(meaning),
  ]);
  return ['', 'Signals:', ...textTable(SIGNAL_COLUMNS, rows)];
}

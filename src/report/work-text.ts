import type { GeometricPlan, ManualPlanTack, PlanTack, Stage } from '../model/plan.js';
import { amount } from './numbers.js';
import { plain } from './plain.js';
import { textTable, type Column } from './text-table.js';

const TACK_COLUMNS: readonly Column[] = [
  { title: 'stage', most: 5, side: 'right' },
  { title: 'while held', most: 46 },
  { title: 'after the let-go', most: 46 },
];

/** A tack by its seam and where on it it lies, mm from the seam's start. */
const tackText = ({ seam, start, length }: ManualPlanTack): string =>
  `${plain(seam)} ${amount(start, 1)}-${amount(start + length, 1)}`;

/** Tacks in the order in which they are laid; where several robots lay some in the plan, robot by robot. */
function tackList(tacks: readonly PlanTack[], several: boolean): string {
  const inOrder = [...tacks].sort((a, b) => a.order - b.order);
  const listOf = (own: readonly PlanTack[]): string => own.map(tackText).join(', ');
  if (!several) return listOf(inOrder) || '-';
  const robots = [...new Set(inOrder.map(({ robot }) => robot))];
  return (
    robots
      .map((robot) => `${plain(robot)}: ${listOf(inOrder.filter((tack) => tack.robot === robot))}`)
      .join('; ') || '-'
  );
}

/** Tacks that a person lays. */
const byHand = (tacks: readonly ManualPlanTack[]): string =>
  `by hand: ${[...tacks]
    .sort((a, b) => a.order - b.order)
    .map(tackText)
    .join(', ')}`;

/** Where every tack goes, a line a stage, and where several robots lay tacks, by which. */
export function tackTable({ stages }: Pick<GeometricPlan, 'stages'>): string[] {
  const several = new Set(stages.flatMap(({ tacks }) => tacks.map(({ robot }) => robot))).size > 1;
  const list = ({ tacks }: Stage, phase: PlanTack['phase']): string =>
    tackList(
      tacks.filter((tack) => tack.phase === phase),
      several,
    );
  const rows = stages
    .filter(({ tacks, manual }) => tacks.length > 0 || (manual?.tacks.length ?? 0) > 0)
    .map((stage) => [
      String(stage.number),
      stage.manual ? byHand(stage.manual.tacks) : list(stage, 'securing'),
      list(stage, 'completing'),
    ]);
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

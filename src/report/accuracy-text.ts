import type { GeometricPlan, PlanAccuracy, Remedy, Stage } from '../model/plan.js';
import { amount } from './numbers.js';
import { plain } from './plain.js';
import { textTable } from './text-table.js';

const WORDS: Readonly<Record<Remedy, string>> = {
  locate: 'located at the stops',
  seat: 'seated against its neighbours',
  'seam-search': 'seams searched',
};

/** What is done for the accuracy of a part; empty when nothing is needed. */
export const remediesText = (remedies: readonly Remedy[]): string =>
  remedies.map((remedy) => WORDS[remedy]).join(', ');

const HEADS = [
  { title: 'stage', most: 5, side: 'right' },
  { title: 'gap', most: 12 },
  { title: 'in-plane', most: 12 },
  { title: 'tilt', most: 12 },
  { title: 'torch', most: 12 },
  { title: 'needs', most: 44 },
] as const;

const DIRECTIONS: readonly PlanAccuracy['direction'][] = ['gap', 'in-plane', 'tilt', 'torch'];

function cell({ accuracy }: Stage, direction: PlanAccuracy['direction']): string {
  const found = accuracy.find((one) => one.direction === direction);
  return found ? `${amount(found.total, 2)} of ${amount(found.limit, 2)}` : '-';
}

/** Why each remedy is needed: the total without it. */
function needs({ remedies, accuracy }: Stage): string {
  const why = accuracy.flatMap(({ direction, without, with: other }) =>
    without === null ? [] : [`${direction} at ${plain(other)} ${amount(without, 2)} without`],
  );
  return remedies.length === 0 ? '-' : `${remediesText(remedies)} (${why.join(', ')})`;
}

/** One row a stage: what the errors in each direction add up to, of what is allowed; nothing when no stage says. */
export function accuracyTable({ stages }: Pick<GeometricPlan, 'stages'>): string[] {
  const told = stages.filter(({ accuracy }) => accuracy.length > 0);
  if (told.length === 0) return [];
  const rows = told.map((stage) => [
    String(stage.number),
    ...DIRECTIONS.map((direction) => cell(stage, direction)),
    needs(stage),
  ]);
  return [
    '',
    'Accuracy, mm (what the errors add up to, of what is allowed; the worst of each direction):',
    ...textTable(HEADS, rows),
  ];
}

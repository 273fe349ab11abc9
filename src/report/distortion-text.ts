import type { GeometricPlan, PlanDistortion, Stage } from '../model/plan.js';
import { amount, counted } from './numbers.js';
import { plain } from './plain.js';
import { paragraph, textTable } from './text-table.js';

const HEADS = [
  { title: 'tolerance', most: 24 },
  { title: 'from', most: 16 },
  { title: 'to', most: 16 },
  { title: 'length', most: 7, side: 'right' },
  { title: 'off', most: 6, side: 'right' },
  { title: 'allowed', most: 7, side: 'right' },
  { title: 'of class', most: 14 },
] as const;

/** One row a tolerance feature: how far it is off, of what tacking may use up. */
function featureTable({ features }: PlanDistortion): string[] {
  if (features.length === 0) return [];
  const rows = features.map(({ name, from, to, nominal, deviation, limit, class: of, tolerance, within }) => [
    ...[plain(name), plain(from), plain(to), amount(nominal, 0), amount(deviation, 2), amount(limit, 2)],
    `${of}: +- ${amount(tolerance, 1)}${within ? '' : ', beyond'}`,
  ]);
  return [
    '',
    'Tolerances after tacking, mm (a screening estimate; allowed is the share that tacking may use up):',
    ...textTable(HEADS, rows),
  ];
}

/** The widest gap before any tack; undefined where no tack is laid. */
function widestGap(stages: readonly Stage[]): { readonly tack: string; readonly mm: number } | undefined {
  const all = stages.flatMap(({ distortion }) => distortion.openings);
  const first = all[0];
  if (first === undefined) return undefined;
  const widest = all.reduce((most, next) => (next.before > most.before ? next : most), first);
  return { tack: widest.tack, mm: widest.before };
}

function worstText({ worst }: PlanDistortion): string {
  if (worst === null) return 'no part is predicted to move';
  return `${plain(worst.part)} moves farthest, ${amount(worst.mm, 2)} mm at a corner, after ${plain(worst.after)} in stage ${worst.stage}`;
}

function bowText({ bows }: PlanDistortion): string {
  const first = bows[0];
  if (first === undefined) return '';
  const most = bows.reduce((worst, next) => (next.bow > worst.bow ? next : worst), first);
  const what = counted(bows.length, 'slender member');
  const which = `${amount(most.bow, 2)} mm over ${amount(most.length, 0)} mm (${most.parts.map(plain).join(', ')})`;
  return bows.length === 1 ? `; ${what}, which bows by ${which}` : `; ${what}, which bow by up to ${which}`;
}

/** The factors on the published shrinkage and where they come from; empty where all are 1. */
export function factorText({ factors }: PlanDistortion, origin: string): string {
  const all = Object.entries(factors);
  if (all.every(([, value]) => value === 1)) return '';
  const shown = all.map(([name, value]) => `${name} ${amount(value, 3)}`).join(', ');
  return `${shown} (${plain(origin)}).`;
}

/** The worst movement, gap and bow in words; undefined where no tack is laid. */
export function distortionSummary({
  distortion,
  stages,
}: Pick<GeometricPlan, 'distortion' | 'stages'>): string | undefined {
  const gap = widestGap(stages);
  if (gap === undefined) return undefined;
  const gaps = `the widest gap before a tack is ${amount(gap.mm, 2)} mm, at ${plain(gap.tack)}`;
  return `${worstText(distortion)}; ${gaps}${bowText(distortion)}`;
}

/** What the prediction of distortion comes to: the worst movement, gaps, bows, and tolerances against their limits. */
export function distortionText(plan: Pick<GeometricPlan, 'distortion' | 'stages' | 'settings'>): string[] {
  const { distortion, settings } = plan;
  const summary = distortionSummary(plan);
  if (summary === undefined) return [];
  const factors = factorText(distortion, settings.distortion.origin);
  return [
    '',
    ...paragraph('Distortion (a screening estimate): ', `${summary}.`),
    ...(factors === '' ? [] : paragraph('Shrinkage factors: ', factors)),
    ...featureTable(distortion),
  ];
}

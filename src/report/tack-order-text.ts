import type { GeometricPlan, Stage } from '../model/plan.js';
import type { TackOrder } from '../model/plan-tack-order.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';

interface Compared extends TackOrder {
  readonly part: string;
  /** By how much less the order leaves than the best habit does, mm; infinite where every habit lets a seam gape. */
  readonly gain: number;
}

const comparedStages = (stages: readonly Stage[]): readonly Compared[] =>
  stages.flatMap(({ part, tackOrder }) => {
    if (tackOrder === undefined) return [];
    const best = Math.min(...tackOrder.habits.map(({ predicted }) => predicted ?? Infinity));
    const own = tackOrder.predicted ?? Infinity;
    return [{ ...tackOrder, part, gain: own === best ? 0 : best - own }];
  });

/** `3 better than every habit, by up to 2.54 mm (gusset)`. */
function betterText(better: readonly Compared[]): string {
  const count = amount(better.length);
  const gaping = better.filter(({ gain }) => gain === Infinity);
  if (gaping.length > 0)
    return `${count} better than every habit, in ${counted(gaping.length, 'stage')} of which a seam would gape too wide for the next tack`;
  const most = better.reduce((a, b) => (b.gain > a.gain ? b : a));
  return `${count} better than every habit, by up to ${amount(most.gain, 2)} mm (${plain(most.part)})`;
}

const WHY: Readonly<Record<'refused' | 'dearer' | 'budget', string>> = {
  refused: 'a better one was refused when the whole was judged',
  dearer: 'a better one would be worse in what the objective puts first',
  budget: 'no other one was tried in the whole, for want of time',
};

/** How the orders of the tacks compare with the habits of the trade, in one line; empty where there is nothing to compare. */
export function tackOrderText({ stages, settings }: Pick<GeometricPlan, 'stages' | 'settings'>): string {
  const compared = comparedStages(stages);
  if (compared.length === 0) return '';
  const gain = settings.distortion['order-gain'];
  const better = compared.filter((one) => one.gain >= gain);
  const worse = compared.filter((one) => one.gain <= -gain);
  const equal = compared.length - better.length - worse.length;
  const counts = [
    ...(better.length > 0 ? [betterText(better)] : []),
    ...(equal > 0 ? [`${amount(equal)} as good as the best habit within ${amount(gain, 2)} mm`] : []),
    ...(worse.length > 0 ? [`${amount(worse.length)} worse than a habit`] : []),
  ];
  const all = compared.every((one) => one.all);
  const scope = all
    ? 'all orders were compared'
    : `all orders were compared in ${counted(compared.filter((one) => one.all).length, 'stage')}, in the others the best was searched for`;
  const left = (['refused', 'dearer', 'budget'] as const).flatMap((kept) => {
    const count = compared.filter((one) => one.kept === kept).length;
    return count > 0 ? [`in ${counted(count, 'stage')} ${WHY[kept]}`] : [];
  });
  const of = counted(compared.length, 'stage');
  return `of ${of} with two tacks or more ${listed(counts)}; ${[scope, ...left].join('; ')}.`;
}

import type { GeometricPlan, PlanWeld, WeldRun } from '../model/plan.js';
import { amount, counted } from './numbers.js';
import { plain } from './plain.js';
import { paragraph, textTable } from './text-table.js';

const HEADS = [
  { title: 'no.', most: 4, side: 'right' },
  { title: 'seam', most: 16 },
  { title: 'of', most: 40 },
  { title: 'from', most: 8, side: 'right' },
  { title: 'to', most: 8, side: 'right' },
  { title: 'leg', most: 5, side: 'right' },
] as const;

const METHODS: Readonly<Record<PlanWeld['search']['method'], string>> = {
  'every-order-and-way':
    'the best of all orders of whole seams, each forwards, backwards, in back-steps or in skips',
  'every-order':
    'the best of all orders of whole seams laid forwards, then with other ways and exchanges tried one by one',
  exchange: 'found by exchanges, which prove nothing: a better one may exist',
};

const valueText = (value: number, measure: PlanWeld['measure']): string =>
  measure === 'corner-movement' ? `${amount(value, 2)} mm` : `${amount(value * 100, 1)} %`;

/** What ours is compared with, in the measure of the section. */
function comparison({ value, habits, worst, measure }: PlanWeld): string {
  const shown = (of: number): string => valueText(of, measure);
  const others = `the order of the file ${shown(habits.file)}, in back-steps ${shown(habits['back-step'])}, in skips ${shown(habits.skip)}, the worst met ${shown(worst.value)}`;
  return measure === 'corner-movement'
    ? `the farthest that a corner moves as seen from the first part is ${shown(value)}; ${others}`
    : `the greatest share of its tolerance that a feature uses up is ${shown(value)}; ${others}`;
}

function runRow({ joints }: GeometricPlan, { joint, seam, from, to }: WeldRun, i: number): string[] {
  const of = joints.find(({ id }) => id === joint);
  const parts = of ? of.between.map(plain).join(' and ') : '';
  return [`${i + 1}`, plain(seam), parts, amount(from), amount(to), of ? amount(of.leg, 1) : ''];
}

const beyond = ({ features }: PlanWeld): string[] =>
  features
    .filter(({ within }) => !within)
    .flatMap(({ name, deviation, tolerance }) =>
      paragraph(
        '',
        `Tolerance ${plain(name)} is predicted to be ${amount(deviation, 2)} mm off, beyond +- ${amount(tolerance, 1)} mm.`,
      ),
    );

/** The order of the full welds, what it comes to beside other orders, and how it was found; empty where it is not in the plan. */
export function weldText(plan: GeometricPlan): string[] {
  const { weld } = plan;
  if (weld === undefined) return [];
  const { method, tried } = weld.search;
  return [
    '',
    ...paragraph('Full welds: ', `${comparison(weld)} (a screening estimate, no weld procedure).`),
    ...paragraph('Order: ', `${METHODS[method]}; ${counted(tried, 'order')} compared.`),
    ...beyond(weld),
    'Runs in their order (mm along the seam; from more to less: backwards):',
    ...textTable(
      HEADS,
      weld.runs.map((run, i) => runRow(plan, run, i)),
    ),
  ];
}

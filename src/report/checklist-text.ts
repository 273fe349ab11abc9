import type { GeometricPlan, ManualPlanTack, PlanSubAssembly } from '../model/plan.js';
import { BEFORE_FIRST_STEP, checkRuns, type CheckItem } from './checklist.js';
import { amount, listed } from './numbers.js';
import { plain } from './plain.js';
import { paragraph, textTable, type Column } from './text-table.js';

const COLUMNS: readonly Column[] = [
  { title: '   ', most: 3 },
  { title: 'robot', most: 14 },
  { title: 'step', most: 4, side: 'right' },
  { title: 'what', most: 48 },
  { title: 'watch', most: 30 },
];

/** A tack that a person lays. */
const handTack = ({ seam, start, length, leg }: ManualPlanTack): readonly string[] => [
  ...['[ ]', '', ''],
  `tack ${plain(seam)}, from ${amount(start, 1)} to ${amount(start + length, 1)} mm, leg ${amount(leg, 1)}`,
  'sound, and where it is stated',
];

const itemRows = ({ robot, step, what, watch, stop, byHand }: CheckItem): readonly (readonly string[])[] => {
  const warned = stop === undefined ? watch : `STOP without tacks: ${plain(stop)}; ${watch}`;
  return [['[ ]', plain(robot), String(step.n), what, warned], ...byHand.map(handTack)];
};

/** What must have been done with a sub-assembly before anything of the weldment is. */
const apartFirst = ({ name, parts, rest, within }: PlanSubAssembly): string =>
  `${plain(name)} is tacked apart first, of ${listed(parts.map(plain))}, by the checklist of its own plan; its tacks are cold and accepted, its parts measured to be within ${amount(within, 2)} mm of their places, and it lies on ${plain(rest)}`;

/**
 * A checklist for the first try of a plan in single steps: every step of every robot, stage by stage, with a box to
 * tick and what to watch; where to stop as long as nothing is tacked; and the cautions of the plan.
 */
export function checklistText(plan: GeometricPlan): string {
  const partOf = new Map(plan.stages.map(({ number, part }) => [number, part] as const));
  const sections = checkRuns(plan).flatMap(({ stage, again, items }) => {
    const part = partOf.get(stage);
    const title =
      part === undefined ? 'At the end' : `Stage ${stage}, ${plain(part)}${again ? ', continued' : ''}`;
    return ['', `${title}:`, ...textTable(COLUMNS, items.flatMap(itemRows), '  ')];
  });
  return `${[
    ...paragraph('', `First try of ${plain(plan.weldment.name)} on ${plain(plan.cell.name)}, step by step`),
    '',
    'Before the first step:',
    ...[...(plan.subAssemblies ?? []).map(apartFirst), ...BEFORE_FIRST_STEP].flatMap((text) =>
      paragraph('  [ ] ', text),
    ),
    '',
    'Cautions:',
    ...plan.cautions.flatMap((text) => paragraph('  - ', plain(text))),
    ...sections,
  ].join('\n')}\n`;
}

import type { AbstractPlan, GeometricPlan, Plan } from '../model/plan.js';
import { accuracyTable } from './accuracy-text.js';
import { claimText } from './claim-text.js';
import { criticalLines } from './critical-text.js';
import { distortionText } from './distortion-text.js';
import { weldText } from './weld-text.js';
import { faultsText, faultTable, reworkText } from './fault-text.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { powerLossTable } from './power-loss-text.js';
import { abstractStageTable, stageTable } from './stage-table.js';
import { paragraph } from './text-table.js';
import { tackStrengthLines } from './tack-strength-text.js';
import { signalTable, tackTable } from './work-text.js';
import { tackOrderText } from './tack-order-text.js';
import { timeTable } from './time-text.js';
import { timelineText } from './timeline-text.js';
import { turnLines } from './turns-text.js';
import { handshakesText } from './handshakes-text.js';
import { wishLines } from './wish-text.js';
import { leastReserveLines } from './weakest-point.js';
import { liftText, searchText, togetherText, triedText } from './whole-text.js';

/** What the text of a plan says that a plan does not know of itself. */
export interface PlanTextParts {
  /** Pairs of parts that meet. */
  readonly contacts?: number | undefined;
}

const contactsText = ({ contacts }: PlanTextParts): string =>
  contacts === undefined ? '' : `, ${counted(contacts, 'contact')}`;

function geometricHead(plan: GeometricPlan, parts: PlanTextParts): string {
  const given = plan.joints.filter(({ origin }) => origin === 'given').length;
  const joints = `${counted(plan.joints.length, 'joint')} (${amount(given)} given, ${amount(plan.joints.length - given)} proposed)`;
  const stages = counted(plan.stages.length, 'part');
  return `${plain(plan.weldment.name)} on ${plain(plan.cell.name)}: ${stages}${contactsText(parts)}, ${joints}`;
}

const reworkLines = (plan: GeometricPlan): string[] =>
  plan.stages.some(({ rework }) => rework.length > 0)
    ? ['', ...paragraph('Bad tacks: ', reworkText(plan))]
    : [];

function orderLines(plan: GeometricPlan): string[] {
  const text = tackOrderText(plan);
  return text === '' ? [] : ['', ...paragraph('Order of tacks (a screening estimate): ', text)];
}

/** A title and one wrapped entry a line with a mark before it; nothing when there is no entry. */
function section(title: string, entries: readonly string[]): string[] {
  if (entries.length === 0) return [];
  return ['', `${title}:`, ...entries.flatMap((entry) => paragraph('  - ', entry))];
}

function closing({ proof, rulesNotApplied, warnings, cautions }: Plan): string[] {
  return [
    ...section('Policies (what is proved is proved of plans made this way)', proof.policies.map(plain)),
    ...section('Not checked', proof.notChecked.map(plain)),
    ...section(
      'Rules that do not apply',
      rulesNotApplied.map(({ rule, why }) => `${plain(rule)}: ${plain(why)}`),
    ),
    ...section('Warnings', warnings.map(plain)),
    ...section('Cautions', cautions.map(plain)),
  ];
}

/** What the plans come to together, and how sub-assemblies were looked for; nothing where nobody asked for any. */
function wholeLines({ whole, subAssemblies = [] }: GeometricPlan): string[] {
  if (whole === undefined) return [];
  const groups = subAssemblies.length;
  return [
    ...(groups > 0 ? paragraph('Together: ', togetherText(whole, groups)) : []),
    ...paragraph('Sub-assemblies: ', searchText(whole, groups)),
    ...(whole.search?.tried ?? []).flatMap((tried) => paragraph('  - ', triedText(tried))),
  ];
}

/** The plans of the sub-assemblies, each whole, and the head of the plan that has them as parts. */
function subAssemblyLines({ weldment, subAssemblies = [] }: GeometricPlan): string[] {
  if (subAssemblies.length === 0) return [];
  const names = subAssemblies.map(({ name }) => plain(name));
  return [
    ...subAssemblies.flatMap((group) => [
      '',
      ...paragraph('', `First ${plain(group.name)}, of ${listed(group.parts.map(plain))}:`),
      ...paragraph('', liftText(group)),
      ...workText(group.plan),
    ]),
    '',
    ...paragraph(
      '',
      `Then ${plain(weldment.name)}, with ${listed(names)} as ${names.length === 1 ? 'one part' : 'parts'}:`,
    ),
  ];
}

const geometricText = (plan: GeometricPlan, parts: PlanTextParts): string[] => [
  ...paragraph('', geometricHead(plan, parts)),
  ...wholeLines(plan),
  ...subAssemblyLines(plan),
  ...workText(plan),
];

/** What a plan claims, and all of it from its stages to its timeline. */
function workText(plan: GeometricPlan): string[] {
  const timeline = timelineText(plan);
  return [
    ...paragraph('', claimText(plan)),
    ...section('Wishes', wishLines(plan)),
    '',
    ...stageTable(plan.stages),
    ...turnLines(plan),
    ...leastReserveLines(plan),
    ...powerLossTable(plan),
    ...tackTable(plan),
    ...tackStrengthLines(plan),
    ...accuracyTable(plan),
    ...distortionText(plan),
    ...orderLines(plan),
    ...weldText(plan),
    '',
    ...paragraph('Handshakes: ', handshakesText(plan)),
    ...signalTable(plan),
    '',
    ...paragraph('Faults: ', faultsText(plan.safety)),
    ...faultTable(plan.safety),
    ...reworkLines(plan),
    ...(timeline.length > 0 ? ['', ...timeline, '', ...criticalLines(plan)] : []),
    ...timeTable(plan),
  ];
}

function abstractText(plan: AbstractPlan, parts: PlanTextParts): string[] {
  const stages = counted(plan.stages.length, 'part');
  const head = `${plain(plan.weldment.name)}, without shapes: ${stages}${contactsText(parts)}`;
  return [
    ...paragraph('', head),
    ...paragraph('', claimText(plan)),
    ...section('Wishes', wishLines(plan)),
    '',
    ...abstractStageTable(plan.stages),
  ];
}

/** The readable summary of a plan: what it claims, its stages, handshakes and timeline, and what it does not cover. */
export function planText(plan: Plan, parts: PlanTextParts = {}): string {
  const body = plan.kind === 'geometric' ? geometricText(plan, parts) : abstractText(plan, parts);
  return `${[...body, ...closing(plan)].join('\n')}\n`;
}

import type { PlanDifference } from '../explain/difference/difference.js';
import type { TermDifference } from '../explain/difference/objective.js';
import type { Change, Sides, Told } from '../explain/difference/sides.js';
import type { StageDifference, Topic } from '../explain/difference/stages.js';
import type { ChangedTack, SeamDifference } from '../explain/difference/tacks.js';
import type { CriticalAct } from '../explain/difference/timeline.js';
import { termName, termText } from './claim-text.js';
import { sideText } from './direction-text.js';
import { amount, counted, duration, listed, nearestTenths, tenthsOf } from './numbers.js';
import { plain } from './plain.js';
import { paragraph } from './text-table.js';
import { wishText } from './wish-text.js';

/** How the two plans are called. */
export type PlanNames = Sides<string>;

const A_AND_B: PlanNames = { a: 'A', b: 'B' };

const BETTER: Readonly<Record<PlanDifference['objective']['better'], (names: PlanNames) => string>> = {
  a: ({ a }) => `${a} is the better plan.`,
  b: ({ b }) => `${b} is the better plan.`,
  equal: ({ a, b }) => `${a} and ${b} are equally good.`,
  unlike: ({ a, b }) =>
    `${a} and ${b} cannot be ranked: their objectives name other terms, or name them in another order.`,
};

function termLine({ term, a, b, better, by }: TermDifference, names: PlanNames): string {
  const told = (value: number | null): string => (value === null ? 'not counted' : termText(term, value));
  const who =
    better === 'neither' || by === null ? '' : `; ${names[better]} is better by ${termText(term, by)}`;
  return `${termName(term)}: ${told(a)} in ${names.a}, ${told(b)} in ${names.b}${who}`;
}

/** What a value is called where a number alone would say too little. */
function toldText(what: string, value: Told): string {
  if (value === null || (Array.isArray(value) && value.length === 0))
    return what === 'held by' || what === 'also held by' ? 'nobody' : 'none';
  if (what === 'direction')
    return `from ${sideText((value as number[]).map((x) => (x === 0 ? 0 : -x)) as [number, number, number])}`;
  if (what === 'position') return `(${(value as number[]).map((x) => amount(x, 1)).join(', ')}) mm`;
  if (what === 'turn' || what === 'index angle') return `${amount(value as number, 1)} deg`;
  if (what === 'proof pull') return `${amount(value as number)} N`;
  if (what === 'length') return `${amount(value as number, 1)} mm`;
  if (what === 'seconds') return duration(tenthsOf(value as number));
  if (typeof value === 'number') return amount(value, 6);
  return typeof value === 'string' ? plain(value) : listed(value.map((entry) => plain(String(entry))));
}

export const changeText = ({ what, a, b }: Change, names: PlanNames): string =>
  `${plain(what)} ${toldText(what, a)} in ${names.a}, ${toldText(what, b)} in ${names.b}`;

const TITLES: Readonly<Record<Topic, string>> = {
  grip: 'Grips',
  hold: 'Holds',
  way: 'Ways into place',
  'fit-up': 'Remedies of fit-up',
  work: 'Tacks and seconds of stages',
};

const stageLine = ({ part, changes }: StageDifference, names: PlanNames): string =>
  `${plain(part)}: ${changes.map((change) => changeText(change, names)).join('; ')}`;

function tackLine({ a, b, mm, changes }: ChangedTack, names: PlanNames): string {
  const tack = a === b ? plain(a) : `${plain(a)} is ${plain(b)} in ${names.b}`;
  const parts = [
    ...(mm > 0 ? [`moved by ${amount(mm, 1)} mm`] : []),
    ...changes.map((change) => changeText(change, names)),
  ];
  return `${tack}, ${parts.join(', ')}`;
}

function seamLine({ between, seam, count, only, changed }: SeamDifference, names: PlanNames): string {
  const id = plain(seam.a ?? seam.b ?? '');
  const counts =
    count.a === count.b ? [] : [`${counted(count.a, 'tack')} in ${names.a}, ${count.b} in ${names.b}`];
  const single = (['a', 'b'] as const).flatMap((side) =>
    only[side].length === 0 ? [] : [`${listed(only[side].map(plain))} only in ${names[side]}`],
  );
  const parts = [...counts, ...single, ...changed.map((tack) => tackLine(tack, names))];
  return `${listed(between.map(plain))}, seam ${id}: ${parts.join('; ')}`;
}

const actText = ({ robot, what, part }: CriticalAct): string =>
  `${plain(what)}${part === '' ? '' : ` of ${plain(part)}`} (${plain(robot)})`;

function timeLines({ timeline }: PlanDifference, names: PlanNames): string[] {
  if (timeline === undefined) return [];
  const { makespan, waits, critical } = timeline;
  const seconds = (value: number): string => duration(tenthsOf(value));
  const waited = (value: number): string => duration(nearestTenths(value));
  const more = tenthsOf(makespan.b) - tenthsOf(makespan.a);
  const side = more > 0 ? names.a : names.b;
  return [
    ...(seconds(makespan.a) === seconds(makespan.b)
      ? []
      : [
          `makespan ${seconds(makespan.a)} in ${names.a}, ${seconds(makespan.b)} in ${names.b}; ${side} ends ${duration(Math.abs(more))} earlier`,
        ]),
    ...waits.flatMap(({ robot, a, b }) =>
      waited(a) === waited(b)
        ? []
        : [`${plain(robot)} waits ${waited(a)} in ${names.a}, ${waited(b)} in ${names.b}`],
    ),
    ...(['a', 'b'] as const).flatMap((side) =>
      critical[side].length === 0
        ? []
        : [`on the critical path only in ${names[side]}: ${listed(critical[side].map(actText))}`],
    ),
  ];
}

function orderLines({ order: { moved, only } }: PlanDifference, names: PlanNames): string[] {
  return [
    ...moved.map(
      ({ part, a, b }) => `${plain(part)} joins in stage ${a} in ${names.a}, in stage ${b} in ${names.b}`,
    ),
    ...(['a', 'b'] as const).flatMap((side) =>
      only[side].length === 0 ? [] : [`only in ${names[side]}: ${listed(only[side].map(plain))}`],
    ),
  ];
}

function inputLines({ kind, inputs }: PlanDifference, names: PlanNames): string[] {
  const told = (input: PlanDifference['inputs'][number]['a']): string =>
    input === null ? 'none' : `"${plain(input.name)}" with digest ${input.digest.slice(0, 12)}`;
  const shapes = { geometric: 'with shapes', abstract: 'without shapes' };
  return [
    ...(kind ? [`${names.a} is a plan ${shapes[kind.a]}, ${names.b} one ${shapes[kind.b]}`] : []),
    ...inputs.map(({ what, a, b }) => `${what}: ${told(a)} in ${names.a}, ${told(b)} in ${names.b}`),
  ];
}

function wishLines({ wishes }: PlanDifference, names: PlanNames): string[] {
  const told = (kept: boolean | null): string => (kept === null ? 'not wished' : kept ? 'kept' : 'broken');
  return wishes.map(
    ({ wish, a, b }) => `that ${wishText(wish)}: ${told(a)} in ${names.a}, ${told(b)} in ${names.b}`,
  );
}

const section = (title: string, entries: readonly string[]): string[] =>
  entries.length === 0 ? [] : [`${title}:`, ...entries.flatMap((entry) => paragraph('  - ', entry))];

/** What differs between two plans that are for the same inputs and settings, or are not, but for how good they are. */
export function changesText(difference: PlanDifference, names: PlanNames = A_AND_B): string[] {
  const { settings, stages, tacks, handshakes, warnings } = difference;
  const topics = (Object.keys(TITLES) as Topic[]).flatMap((topic) =>
    section(
      TITLES[topic],
      stages.filter((stage) => stage.topic === topic).map((stage) => stageLine(stage, names)),
    ),
  );
  const lines = (['a', 'b'] as const).flatMap((side) =>
    warnings[side].map((line) => `only in ${names[side]}: ${plain(line)}`),
  );
  return [
    ...section('Made for', inputLines(difference, names)),
    ...section(
      'Settings',
      settings.map((change) => changeText(change, names)),
    ),
    ...section('Wishes', wishLines(difference, names)),
    ...section('Order', orderLines(difference, names)),
    ...topics,
    ...section(
      'Tacks',
      tacks.map((seam) => seamLine(seam, names)),
    ),
    ...section('Timeline', timeLines(difference, names)),
    ...section(
      'Handshakes',
      handshakes ? [`${handshakes.a} in ${names.a}, ${handshakes.b} in ${names.b}`] : [],
    ),
    ...section('Warnings', lines),
  ];
}

/** The objectives of two plans: which is better, and each term that differs. */
const objectiveLines = ({ objective, inputs }: PlanDifference, names: PlanNames = A_AND_B): string[] => [
  inputs.length > 0
    ? `${names.a} and ${names.b} are not for the same inputs: neither is the better plan.`
    : BETTER[objective.better](names),
  ...section(
    'Objective',
    objective.terms.map((term) => termLine(term, names)),
  ),
];

/** How plan B differs from plan A, in words; what does not differ is not told. */
export function compareText(difference: PlanDifference, files: PlanNames): string {
  const head = [`A: ${plain(files.a)}`, `B: ${plain(files.b)}`, ''];
  if (difference.same) return [...head, 'The two plans are the same.', ''].join('\n');
  const told = changesText(difference);
  const { elsewhere } = difference;
  const more = `${told.length === 0 ? 'Nothing of order, grips, holds, tacks, timeline, handshakes, warnings and settings differs. ' : ''}More differs in these sections of the documents: `;
  return [
    ...head,
    ...objectiveLines(difference),
    ...told,
    ...(elsewhere.length === 0 ? [] : paragraph('', `${more}${listed(elsewhere)}.`)),
    '',
  ].join('\n');
}

import type { Fault, FaultEnd, FaultKind, FaultReaction, Safety } from '../model/plan-safety.js';
import type { GeometricPlan, PlanRework } from '../model/plan.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { textTable } from './text-table.js';

const NAMES: Readonly<Record<FaultKind, string>> = {
  'signal-late': 'a signal comes late',
  'signal-too-late': 'a signal comes after the time limit',
  'signal-lost': 'a signal is lost',
  'tack-bad': 'a tack is reported bad',
  'second-tack-bad': 'the tack laid instead is bad too',
  'part-missing': 'no part to take',
  'grip-unconfirmed': 'the gripper does not have the part',
  'seat-short': 'seating does not come to contact',
  'pull-moves': 'a part gives way to the proof pull',
  'wire-stuck': 'the wire is frozen to the tack',
  'person-silent': 'the person does not confirm',
  'robot-stopped': 'a robot stops',
  'power-lost': 'power is lost, of all robots at once',
};

const STATES: readonly (readonly [FaultEnd['state'], string])[] = [
  ['station', 'at a station'],
  ['with-person', 'with the person who sets it'],
  ['held', 'held'],
  ['standing', 'standing'],
  ['drop-zone', 'in a guarded drop zone'],
];

/** Ends that occur, `at a station, held or standing`. */
const endsText = (ends: readonly FaultEnd[]): string =>
  listed(
    STATES.filter(([state]) => ends.some((end) => end.state === state)).map(([, text]) => text),
    'or',
  );

/** What is done, in words; no gripper ever lets go. */
export function reactionText({ stop, arcs, torch, person, then }: FaultReaction): string {
  if (then === 'go-on') return 'wait, keep holding, go on when it comes';
  if (then === 'repeat-tack') return 'keep holding, repeat the tack at the stated site, go on';
  const out = { 'burn-on': '', 'own-out': ', its arc goes out', 'all-out': ', arcs go out' }[arcs];
  const who =
    stop === 'all'
      ? `stop all robots${out}`
      : `stop this robot${out}, the others go on until they wait for it`;
  const where =
    torch === 'drawn-back' ? ', the torch is drawn back' : torch === 'stays' ? ', the torch stays' : '';
  return `keep holding, ${who}${where}${person ? ', call a person' : ''}`;
}

/** How many faults were executed, of which kinds, and how they end. */
export function faultsText({ faults, faultRows, notCovered }: Safety): string {
  const not = notCovered === '' ? '' : ` Not covered: ${plain(notCovered)}.`;
  if (faults.length === 0) return `none was executed.${not}`;
  const situations = faults.reduce((sum, one) => sum + one.situations, 0);
  const ends = endsText(faults.flatMap((one) => one.ends));
  const several = new Set(faults.map(({ robot }) => robot)).size > 2;
  const where = several ? 'pair of positions of two robots' : 'position of the other robot';
  return (
    `${counted(faultRows, 'single fault')}, each executed in every ${where} that the signals allow ` +
    `(${amount(situations)} in all): every part ends ${ends}, and no arc burns on.${not}`
  );
}

/** Why a tack has no other site for when it is bad. */
export const NO_REWORK: Readonly<Record<NonNullable<PlanRework['none']>, string>> = {
  'no-site': 'no room on the seam',
  'torch-blocked': 'the torch gets at no other site meanwhile',
  'no-way': 'no way there',
  'arm-meets': 'another robot may be in the way',
};

/** How many tacks have another site for when they are bad, and why the others have none. */
export function reworkText({ stages }: Pick<GeometricPlan, 'stages'>): string {
  const all = stages.flatMap(({ rework }) => rework);
  const reasons = Object.entries(NO_REWORK).flatMap(([code, text]) => {
    const count = all.filter(({ none }) => none === code).length;
    return count > 0 ? [`${text} (${amount(count)})`] : [];
  });
  const repeated = all.filter(({ tack }) => tack !== null).length;
  const others = reasons.length > 0 ? `; for the others: ${listed(reasons)}` : '';
  return `${amount(repeated)} of ${counted(all.length, 'tack')} can be repeated at another site of the seam${others}.`;
}

const HEADS = [
  { title: 'fault', most: 34 },
  { title: 'times', most: 8, side: 'right' },
  { title: 'what is done', most: 44 },
  { title: 'parts end', most: 40 },
] as const;

/** A kind of fault with one reaction. */
export interface FaultRow {
  readonly name: string;
  readonly times: number;
  readonly done: string;
  readonly ends: string;
}

/** The kinds of faults that were executed, each with its reaction and its ends. */
export function faultRows({ faults }: Pick<Safety, 'faults'>): readonly FaultRow[] {
  const rows = new Map<string, { readonly name: string; readonly done: string; readonly all: Fault[] }>();
  for (const one of faults) {
    const [name, done] = [NAMES[one.fault], reactionText(one.reaction)];
    const key = `${name}\n${done}`;
    if (!rows.has(key)) rows.set(key, { name, done, all: [] });
    rows.get(key)!.all.push(one);
  }
  return [...rows.values()].map(({ name, done, all }) => ({
    name,
    times: all.reduce((sum, one) => sum + one.rows, 0),
    done,
    ends: endsText(all.flatMap(({ ends }) => ends)),
  }));
}

/** The same as a table for the terminal; nothing where no fault was executed. */
export function faultTable(safety: Pick<Safety, 'faults'>): string[] {
  const rows = faultRows(safety);
  if (rows.length === 0) return [];
  return textTable(
    HEADS,
    rows.map(({ name, times, done, ends }) => [name, amount(times), done, ends]),
  );
}

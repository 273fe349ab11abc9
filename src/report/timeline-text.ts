import type { Activity, GeometricPlan } from '../model/plan.js';
import { amount, duration, nearestTenths } from './numbers.js';
import { clipped, columns, padded, plain, wrapped } from './plain.js';
import { ACTIVITY_KINDS, kindOf } from './timeline-kinds.js';
import { TIME_STEPS, timeName } from './time-steps.js';

const WIDTH = 100;
const MOST_NAME = 16;

const markOf = (what: string): string => kindOf(what).mark;
const OTHER = markOf('');

interface Scale {
  readonly cells: number;
  /** Seconds. */
  readonly perCell: number;
}

/** The activity that fills most of a cell; the first of equals; undefined for a cell in which nothing happens. */
function filling(activities: readonly Activity[], cell: number, { perCell }: Scale): Activity | undefined {
  const [from, to] = [cell * perCell, (cell + 1) * perCell];
  let most: { activity: Activity; share: number } | undefined;
  for (const activity of activities) {
    const share = Math.min(to, activity.end) - Math.max(from, activity.start);
    if (share > 1e-9 && share > (most?.share ?? 0) + 1e-9) most = { activity, share };
  }
  return most?.activity;
}

/** Writes labels into a row of blanks where they find room; a label that would touch an earlier one is left out. */
function labelRow(cells: number, labels: readonly (readonly [number, string])[]): string {
  const row = Array.from({ length: cells }, () => ' ');
  let free = 0;
  for (const [at, label] of labels) {
    if (at < free || at + label.length > cells) continue;
    Array.from(label).forEach((mark, i) => (row[at + i] = mark));
    free = at + label.length + 1;
  }
  return row.join('');
}

/** Where a robot begins with each stage. */
function stageRow(activities: readonly Activity[], { cells, perCell }: Scale): string {
  const first = new Map<number, number>();
  for (const { stage, start } of activities)
    if (stage > 0 && !first.has(stage)) first.set(stage, Math.floor(start / perCell + 1e-9));
  return labelRow(
    cells,
    [...first].map(([stage, at]) => [at, String(stage)] as const),
  );
}

function timeRow({ cells, perCell }: Scale): string {
  const step = TIME_STEPS.find((seconds) => seconds / perCell >= 13) ?? perCell * cells;
  const labels: [number, string][] = [];
  for (let time = 0; time < cells * perCell && labels.length < cells; time += step)
    labels.push([Math.round(time / perCell), timeName(time)]);
  return labelRow(cells, labels);
}

/** Sum of the waits of one robot, in tenths of a second. */
const waits = (activities: readonly Activity[]): number =>
  nearestTenths(
    activities.reduce((sum, { what, start, end }) => (what === 'wait' ? sum + end - start : sum), 0),
  );

/** What the marks of the lanes mean; kinds that fill no cell anywhere are named apart. */
function legend(activities: readonly Activity[], shown: ReadonlySet<string>): string[] {
  const kinds = [...new Set(activities.map(({ what }) => what))];
  const known = [...ACTIVITY_KINDS].flatMap(([what, { mark }]) =>
    shown.has(what) ? [`${mark} ${what}`] : [],
  );
  const others = kinds.filter((what) => shown.has(what) && !ACTIVITY_KINDS.has(what)).map(plain);
  const hidden = kinds.filter((what) => !shown.has(what)).map(plain);
  return [
    [...known, ...(others.length > 0 ? [`${OTHER} other: ${others.join(', ')}`] : [])].join(', '),
    hidden.length > 0 ? `too short to show: ${hidden.join(', ')}` : '',
  ].flatMap((text) => (text === '' ? [] : wrapped(text, WIDTH - 2).map((line) => `  ${line}`)));
}

/** The timeline with one lane a robot, at most 100 columns wide; empty when nothing takes any time. */
export function timelineText({ timeline, programs }: Pick<GeometricPlan, 'timeline' | 'programs'>): string[] {
  const { makespan, activities } = timeline;
  if (makespan <= 0 || activities.length === 0) return [];
  const named = programs.map(({ robot }) => robot);
  const robots = [...new Set([...named, ...activities.map(({ robot }) => robot)])];
  const names = robots.map((robot) => clipped(plain(robot), MOST_NAME));
  const side = Math.max(5, ...names.map(columns)) + 4;
  const cells = WIDTH - side;
  const scale = { cells, perCell: makespan / cells };
  const line = (name: string, row: string): string => `  ${padded(name, side - 2)}${row}`.trimEnd();
  const shown = new Set<string>();
  const own = robots.map((robot) => activities.filter((activity) => activity.robot === robot));
  const lanes = own.flatMap((lane, i) => {
    const filled = Array.from({ length: cells }, (_, cell) => filling(lane, cell, scale)?.what);
    for (const what of filled) if (what !== undefined) shown.add(what);
    const row = filled.map((what) => (what === undefined ? ' ' : markOf(what))).join('');
    return [line('stage', stageRow(lane, scale)), line(names[i]!, row)];
  });
  const waiting = own.map((lane, i) => `${names[i]!} ${duration(waits(lane))}`);
  return [
    `Timeline, ${amount(scale.perCell, 2)} s a mark (what fills most of it):`,
    line('time', timeRow(scale)),
    ...lanes,
    ...legend(activities, shown),
    ...wrapped(`Waits: ${waiting.join(', ')}`, WIDTH - 2).map((text) => `  ${text}`),
  ];
}

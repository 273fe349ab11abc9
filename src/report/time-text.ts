import type { GeometricPlan, Step } from '../model/plan.js';
import { clipped, plain } from './plain.js';
import { textTable, type Column } from './text-table.js';

/** What the time of a robot goes into, in the order of the table. */
const KINDS = [
  'joint moves',
  'straight moves',
  'gripping, clamping, settling',
  'tool change',
  'arc',
  'search',
  'cooling',
  'checks',
  'nozzle',
  'table turns',
  'by hand',
  'hand-over',
  'waits',
] as const;
type Kind = (typeof KINDS)[number];

/** Steps that only mark a place in the program take no time. */
const KIND_OF: Readonly<Record<Exclude<Step['do'], 'move'>, Kind | undefined>> = {
  grip: 'gripping, clamping, settling',
  'set-down': 'gripping, clamping, settling',
  'let-go': 'gripping, clamping, settling',
  locate: 'gripping, clamping, settling',
  seat: 'gripping, clamping, settling',
  clamp: 'gripping, clamping, settling',
  hold: 'gripping, clamping, settling',
  'proof-pull': 'gripping, clamping, settling',
  'change-gripper': 'tool change',
  tack: 'arc',
  'seam-search': 'search',
  cool: 'cooling',
  'part-present': 'checks',
  'wire-check': 'checks',
  'earth-check': 'checks',
  'clean-nozzle': 'nozzle',
  turn: 'table turns',
  manual: 'by hand',
  'hand-over': 'hand-over',
  await: 'waits',
  accept: 'waits',
  enter: undefined,
  leave: undefined,
  signal: undefined,
};

function kindOf(step: Step): Kind | undefined {
  if (step.do === 'move') return step.path === 'straight' ? 'straight moves' : 'joint moves';
  return KIND_OF[step.do];
}

/** Seconds of a program that go into each kind of step. */
export function timeByKind(steps: readonly Step[]): ReadonlyMap<Kind, number> {
  const sums = new Map<Kind, number>(KINDS.map((kind) => [kind, 0]));
  for (const step of steps) {
    const kind = kindOf(step);
    if (kind !== undefined) sums.set(kind, sums.get(kind)! + step.end - step.start);
  }
  return sums;
}

/** Kinds that many a cell has nothing of are shown only where there is some. */
const RARE: readonly Kind[] = ['cooling', 'checks', 'nozzle', 'table turns', 'by hand', 'hand-over'];

/** What the seconds of each robot go into, a line a robot; nothing when no step of any takes time. */
export function timeTable({ programs }: Pick<GeometricPlan, 'programs'>): string[] {
  const rows = programs.map(({ robot, steps }) => ({ robot, times: timeByKind(steps) }));
  const taken = (kind: Kind): number => rows.reduce((sum, { times }) => sum + times.get(kind)!, 0);
  if (KINDS.every((kind) => taken(kind) <= 0)) return [];
  const kinds = KINDS.filter((kind) => !RARE.includes(kind) || taken(kind) > 0);
  const columns: readonly Column[] = [
    { title: 'robot', most: 16 },
    ...kinds.map((title): Column => ({ title, most: Math.max(title.length, 8), side: 'right' })),
    { title: 'sum', most: 8, side: 'right' },
  ];
  return [
    '',
    'Time by kind of step, s:',
    ...textTable(
      columns,
      rows.map(({ robot, times }) => {
        const seconds = kinds.map((kind) => times.get(kind)!);
        const sum = seconds.reduce((total, one) => total + one, 0);
        return [clipped(plain(robot), 16), ...[...seconds, sum].map((one) => one.toFixed(1))];
      }),
    ),
  ];
}

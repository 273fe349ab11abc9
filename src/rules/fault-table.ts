import type { Fault, FaultEnd } from '../model/plan-safety.js';
import type { Step } from '../model/plan.js';
import { FAULT_KINDS } from './fault-kinds.js';
import type { FaultRow } from './fault-rows.js';

/** In the order in which a group tells them. */
const STATES: readonly FaultEnd['state'][] = ['station', 'held', 'standing', 'drop-zone'];

const endKey = ({ state, stands, gripper, seconds, while: when }: Omit<FaultEnd, 'parts'>): string =>
  [STATES.indexOf(state), stands, gripper, String(seconds), when].join(' ');

/** Ascending numbers as runs: the first and the last of each. */
export function runsOf(numbers: readonly number[]): [number, number][] {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last?.[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs;
}

/** Rows with one fault, robot, reaction and set of ends together; parts are those of any of them. */
export function groupedFaults(
  rows: readonly FaultRow[],
  robots: readonly string[],
  programs: readonly (readonly Step[])[],
  parts: readonly string[],
): readonly Fault[] {
  const groups = new Map<string, FaultRow[]>();
  for (const row of rows) {
    const ends = row.ends().map(endKey).sort();
    const key = [row.fault, row.robot, row.reaction.then, ...ends].join('|');
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const order = (row: FaultRow): number => FAULT_KINDS.indexOf(row.fault) * robots.length + row.robot;
  return [...groups.values()]
    .sort(([a], [b]) => order(a!) - order(b!) || a!.step - b!.step)
    .map((group): Fault => {
      const { fault, robot, reaction } = group[0]!;
      return {
        ...{
          fault,
          robot: robots[robot]!,
          steps: runsOf(group.map(({ step }) => programs[robot]![step]!.n)),
        },
        ...{ reaction, ends: endsOf(group, parts), rows: group.length },
        situations: group.reduce((sum, row) => sum + row.situations, 0),
      };
    });
}

function endsOf(group: readonly FaultRow[], order: readonly string[]): FaultEnd[] {
  const found = new Map<string, { readonly end: Omit<FaultEnd, 'parts'>; readonly parts: Set<string> }>();
  for (const { endings } of group)
    for (const [end, parts] of endings) {
      if ('wrong' in end) continue;
      const key = endKey(end);
      if (!found.has(key)) found.set(key, { end, parts: new Set() });
      for (const part of parts) found.get(key)!.parts.add(part);
    }
  return [...found.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { end, parts }]) => ({ ...end, parts: order.filter((part) => parts.has(part)) }));
}

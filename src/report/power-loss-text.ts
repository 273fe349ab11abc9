import type { GeometricPlan, PlanPowerLoss } from '../model/plan.js';
import { amount } from './numbers.js';
import { plain } from './plain.js';
import { textTable } from './text-table.js';

const HEADS = [
  { title: 'stage', most: 14, side: 'right' },
  { title: 'gripper', most: 24 },
  { title: 'kind', most: 14 },
  { title: 'what that means', most: 40 },
] as const;

/** What the part does, and where nobody may be, in words. */
function meaning({ kind, seconds, zone }: PlanPowerLoss): string {
  if (kind === 'must-stand') return 'the part is let go; it stands by itself';
  if (kind === 'stored-seconds')
    return seconds === null ? 'the pull stays, without end' : `the pull stays for ${amount(seconds, 1)} s`;
  if (zone === null) return 'the part may fall';
  const [x, y] = zone.at.map((coordinate) => amount(coordinate));
  return `the part may fall: nobody within ${amount(Math.ceil(zone.radius))} mm of ${x}, ${y} in the cell`;
}

/** `2, 4 to 7`: ascending numbers, runs of three or more as one. */
export function rangesText(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last?.[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  const told = runs.map(([from, to]) =>
    from === to ? String(from) : to === from + 1 ? `${from}, ${to}` : `${from} to ${to}`,
  );
  return told.join(', ');
}

/** What a loss of power means while a part is held; stages for which it means the same share a row. */
export function powerLossTable({ stages }: Pick<GeometricPlan, 'stages'>): string[] {
  const rows = new Map<string, { readonly cells: readonly string[]; readonly stages: Set<number> }>();
  for (const { number, powerLoss } of stages)
    for (const loss of powerLoss) {
      const cells = [plain(loss.gripper), loss.kind, meaning(loss)];
      const key = cells.join('\n');
      if (!rows.has(key)) rows.set(key, { cells, stages: new Set() });
      rows.get(key)!.stages.add(number);
    }
  if (rows.size === 0) return [];
  return [
    '',
    'When power or air is lost while a part is held:',
    ...textTable(
      HEADS,
      [...rows.values()].map(({ cells, stages: own }) => [rangesText([...own]), ...cells]),
    ),
  ];
}

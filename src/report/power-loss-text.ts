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
export function powerLossMeaning({ kind, seconds, zone }: PlanPowerLoss): string {
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

/** What a loss of power means while a part is held. */
export interface PowerLossRow {
  readonly stages: readonly number[];
  readonly gripper: string;
  readonly kind: PlanPowerLoss['kind'];
  readonly meaning: string;
}

/** Stages for which a loss of power means the same share a row. */
export function powerLossRows({ stages }: Pick<GeometricPlan, 'stages'>): readonly PowerLossRow[] {
  const rows = new Map<string, Omit<PowerLossRow, 'stages'> & { readonly stages: Set<number> }>();
  for (const { number, powerLoss } of stages)
    for (const loss of powerLoss) {
      const row = { gripper: loss.gripper, kind: loss.kind, meaning: powerLossMeaning(loss) };
      const key = Object.values(row).join('\n');
      if (!rows.has(key)) rows.set(key, { ...row, stages: new Set() });
      rows.get(key)!.stages.add(number);
    }
  return [...rows.values()].map((row) => ({ ...row, stages: [...row.stages] }));
}

/** The same as a table for the terminal; nothing where no part is held. */
export function powerLossTable(plan: Pick<GeometricPlan, 'stages'>): string[] {
  const rows = powerLossRows(plan);
  if (rows.length === 0) return [];
  return [
    '',
    'When power or air is lost while a part is held:',
    ...textTable(
      HEADS,
      rows.map(({ stages, gripper, kind, meaning }) => [rangesText(stages), plain(gripper), kind, meaning]),
    ),
  ];
}

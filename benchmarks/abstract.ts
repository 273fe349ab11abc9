import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { FAMILIES } from '../src/study/families/families.js';
import { generatedWeldment, type AbstractCase } from './abstract-case.js';
import { runOnce, type AbstractRun } from './abstract-once.js';
import { median, row } from './printing.js';

export interface AbstractOptions {
  readonly parts: readonly number[];
  readonly repeats: number;
}

/** Moderate: the default dials with one gripper more. Dense: most blocking, most grippers and ways. */
const DIALS = {
  moderate: { seed: 1, blocking: 0.5, grippers: 4, single: 0.3, regrips: 0.2 },
  dense: { seed: 2, blocking: 0.9, grippers: 5, single: 0.2, regrips: 0.4 },
} as const;

/** Weldments without shapes of every family: time to the first plan and to the proof, set-up counted. */
export function abstractWeldments({ parts, repeats }: AbstractOptions): void {
  for (const count of parts)
    for (const [name, dials] of Object.entries(DIALS))
      for (const family of FAMILIES) one(name, { family: family.name, parts: count, ...dials }, repeats);
}

function one(dials: string, asked: AbstractCase, repeats: number): void {
  const cold = Array.from({ length: repeats }, () => inOwnProcess(asked));
  const weldment = generatedWeldment(asked);
  const warm = Array.from({ length: 2 * repeats }, () => runOnce(weldment)).slice(repeats);
  const seconds = (runs: readonly AbstractRun[], of: 'firstPlan' | 'whole'): number[] =>
    runs.map((run) => run[of] / 1000);
  const [{ steps, firstStep, outcome, cost, bound }] = cold as [AbstractRun];
  const gap = (100 * (cost[2]! - bound[2]!)) / bound[2]!;
  const proved =
    outcome === 'optimal' ? 'proved' : `bound ${bound.join(', ')}, time ${gap.toFixed(1)} % above`;
  row(`${asked.family}, ${asked.parts} parts, ${dials}`, seconds(cold, 'whole'), `${steps} steps, ${proved}`);
  row('  first plan, cold', seconds(cold, 'firstPlan'), `${firstStep} steps`);
  const shares = median(seconds(warm, 'firstPlan')) / median(seconds(warm, 'whole'));
  row('  the same, warm', seconds(warm, 'whole'), `first plan after ${(100 * shares).toFixed(0)} % of it`);
}

/** The first run of a fresh process; reading and loading are left out. */
function inOwnProcess(asked: AbstractCase): AbstractRun {
  const { stdout, status, stderr } = spawnSync(
    process.execPath,
    ['--import', 'tsx', join(import.meta.dirname, 'abstract-once.ts'), JSON.stringify(asked)],
    { encoding: 'utf8' },
  );
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as AbstractRun;
}

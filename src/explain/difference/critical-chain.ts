import type { GeometricPlan } from '../../model/plan.js';

/** What one robot does, one thing after the other, on the critical path. */
export interface CriticalRun {
  readonly robot: string;
  readonly what: readonly { readonly what: string; readonly stage: number }[];
}

/** The activities that fix the makespan, in time order, by robot; waits left out. */
export function criticalChain({ timeline: { activities } }: Pick<GeometricPlan, 'timeline'>): CriticalRun[] {
  const chain = activities
    .filter(({ critical, what }) => critical && what !== 'wait')
    .sort((a, b) => a.start - b.start || a.end - b.end);
  const runs: { readonly robot: string; readonly what: { what: string; stage: number }[] }[] = [];
  for (const { robot, what, stage } of chain) {
    if (runs.at(-1)?.robot !== robot) runs.push({ robot, what: [] });
    runs.at(-1)!.what.push({ what, stage });
  }
  return runs;
}

import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Cost } from '../algorithms/cost.js';
import { issueLine } from '../model/issue.js';
import type { Plan } from '../model/plan.js';
import type { PlannedInstance } from './instance.js';
import type { Run } from './run-packed.js';
import type { RunResult } from './row.js';
import { emptyResult } from './run-result.js';
import type { Stopwatch } from './stopwatch.js';

/** Plans a weldment with shapes by the whole planner, whose plans all rules have passed. */
export function runPlanned(
  instance: PlannedInstance,
  { seed, limits, clock }: Run,
  watch: Stopwatch,
  programs: LinearPrograms,
): RunResult {
  let steps = 0;
  const left = limits.seconds === undefined ? undefined : Math.max(1e-3, limits.seconds - watch.seconds);
  const outcome = instance.plan({
    ...{ programs, seed, clock, steps: limits.steps ?? Number.MAX_SAFE_INTEGER, seconds: left },
    onProgress: (progress) => {
      steps = Math.max(steps, progress.steps);
      if (progress.best !== undefined) watch.found(progress.best);
    },
  });
  const totalSeconds = watch.seconds;
  const bare = emptyResult('none-in-budget', '', instance.terms, totalSeconds);
  switch (outcome.kind) {
    case 'planned':
      return { ...bare, ...planned(outcome.plan, watch), note: ROUNDED };
    case 'impossible':
      return outcome.scope === 'any'
        ? { ...bare, outcome: 'impossible', steps, proofSeconds: totalSeconds }
        : { ...bare, steps, note: 'no plan among the candidates that are tried' };
    case 'none-found':
      return { ...bare, steps: outcome.states, note: `${outcome.refused} whole orders refused` };
    case 'bad-input':
      return { ...bare, outcome: 'failed', note: outcome.issues.map(issueLine).slice(0, 1).join() };
    case 'defect':
      return { ...bare, outcome: 'failed', note: `a defect of Tackwright: ${outcome.findings[0]!.message}` };
  }
}

const ROUNDED = 'time in tenths of a second; seconds to first and best by the passes of the search';

function planned({ objective, proof }: Plan, watch: Stopwatch): Partial<RunResult> {
  const best: Cost = objective.map(({ value }) => value);
  const seconds = watch.seconds;
  const proved = proof.outcome === 'optimal';
  return {
    ...{ outcome: proof.outcome, best, bound: objective.map(({ bound }) => bound), steps: proof.states },
    provedTerms: proof.provedTerms.length,
    firstSeconds: watch.firstSeconds ?? seconds,
    bestSeconds: watch.bestSeconds ?? seconds,
    proofSeconds: proved ? seconds : undefined,
  };
}

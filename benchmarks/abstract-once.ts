import { Budget } from '../src/base/budget.js';
import { DEFAULT_SETTINGS } from '../src/model/settings.js';
import { planAbstract } from '../src/planning/abstract-plan.js';
import { generatedWeldment, type AbstractCase } from './abstract-case.js';

/** Milliseconds of one run, and what came of it. */
export interface AbstractRun {
  readonly firstPlan: number;
  readonly whole: number;
  readonly steps: number;
  readonly firstStep: number;
  readonly outcome: string;
  readonly cost: readonly number[];
  readonly bound: readonly number[];
}

const MOST_SECONDS = 60;

/** Set-up and search of one weldment, by the clock. */
export function runOnce(weldment: ReturnType<typeof generatedWeldment>): AbstractRun {
  const start = performance.now();
  let firstPlan = Infinity;
  const clock = (): number => performance.now() / 1000;
  const budget = new Budget({ steps: 1e9, seconds: MOST_SECONDS, clock });
  const report = planAbstract(weldment, DEFAULT_SETTINGS, {
    budget,
    onImprovement: () => (firstPlan = Math.min(firstPlan, performance.now() - start)),
  });
  return {
    firstPlan,
    whole: performance.now() - start,
    steps: report.counters.expanded,
    firstStep: report.improvements[0]?.step ?? 0,
    outcome: report.outcome,
    cost: report.best?.cost ?? [],
    bound: report.bound,
  };
}

/** As a process of its own: the first run, with nothing compiled yet. */
const [asked] = process.argv.slice(2);
if (asked !== undefined && process.argv[1] === import.meta.filename)
  console.log(JSON.stringify(runOnce(generatedWeldment(JSON.parse(asked) as AbstractCase))));

import type { DisjunctiveProblem } from '../src/algorithms/disjunctive-problem.js';
import type { LinearPrograms } from '../src/algorithms/linear-program.js';
import { Budget } from '../src/base/budget.js';
import { seededRandom } from '../src/base/random.js';
import { factsOf, planWeldment } from '../src/planning/plan.js';
import { readInputs, type Sources } from '../src/session/inputs.js';
import { shapedExamples } from './grip-density.js';
import { beside, loadHighs } from './job-shop.js';

export interface TimelineOptions {
  /** Examples whose timeline is decided again. */
  readonly examples: readonly string[];
  /** Robots and steps each of seeded programs of our own, with stretches in which two of them cannot be at once. */
  readonly own: readonly (readonly [robots: number, steps: number, meetings: number])[];
  readonly repeats: number;
  /** How long HiGHS may take over one problem, seconds. */
  readonly patience: number;
}

/** Who goes first in the timelines of plans, and in larger ones of our own, beside HiGHS on the same problem. */
export async function timelines(
  programs: LinearPrograms,
  { examples, own, repeats, patience }: TimelineOptions,
): Promise<void> {
  const highs = await loadHighs();
  for (const { name, sources } of shapedExamples().filter((one) => examples.includes(one.name))) {
    const problem = timelineOf(sources, programs);
    if (problem) beside(highs, `timeline of ${name}`, problem, repeats, patience);
  }
  for (const [robots, steps, meetings] of own)
    beside(
      highs,
      `${robots} programs of ${steps} steps, ${meetings} meetings`,
      programsOf(robots, steps, meetings),
      repeats,
      patience,
    );
}

/** What the timeline of the best plan of an example was decided from. */
function timelineOf(sources: Sources, programs: LinearPrograms): DisjunctiveProblem | undefined {
  const { weldment, cell, settings } = readInputs(sources).inputs!;
  if (weldment.kind !== 'geometric') return undefined;
  const facts = factsOf(weldment, cell!, settings, programs);
  const { search } = planWeldment(facts, { budget: () => new Budget(settings.budget) });
  return search.best?.result.raw.problem;
}

/** Programs whose steps take 0.1 to 3 s, and pairs of stretches of up to a tenth of two of them that exclude each other. */
function programsOf(robots: number, steps: number, meetings: number): DisjunctiveProblem {
  const random = seededRandom(robots * 1000 + steps);
  const pick = (n: number): number => Math.floor(random() * n);
  const durations = Array.from({ length: robots * steps }, () => 100 * (1 + pick(30)));
  const arcs = durations.flatMap((lag, i) => ((i + 1) % steps === 0 ? [] : [{ from: i, to: i + 1, lag }]));
  const stretch = (robot: number, from: number): { first: number; last: number } => {
    const first = Math.min(steps - 1, from);
    const last = Math.min(steps - 1, first + pick(Math.ceil(steps / 10)));
    return { first: robot * steps + first, last: robot * steps + last };
  };
  const resources = Array.from({ length: meetings }, () => {
    const one = pick(robots);
    const other = (one + 1 + pick(robots - 1)) % robots;
    // At about the same time, as arms that work side by side meet; so no choice makes all wait for each other.
    const at = pick(steps);
    return { spans: [stretch(one, at), stretch(other, at)] };
  });
  return { durations, arcs, resources };
}

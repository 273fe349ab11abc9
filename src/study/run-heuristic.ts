import { compareCost, equalTerms, type Cost } from '../algorithms/cost.js';
import { seededRandom } from '../base/random.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Heuristic, HeuristicTools } from './heuristic.js';
import { heuristicProblem } from './heuristic-problem.js';
import type { PackedInstance } from './instance.js';
import type { Run } from './run-packed.js';
import type { RunResult } from './row.js';
import { emptyResult } from './run-result.js';
import type { Stopwatch } from './stopwatch.js';

/** What a heuristic gets where a study has a limit of steps only, which a heuristic does not count (our choice). */
export const HEURISTIC_SECONDS = 10;

/** A legal order that a heuristic told of: what is left of the run if its thread is ended. */
export type Told = Pick<RunResult, 'best' | 'firstSeconds' | 'bestSeconds'>;

/** Runs a user's heuristic, and judges all that it says. `tell` is called for each better order on the way. */
export async function runHeuristic(
  instance: PackedInstance,
  load: () => Promise<unknown>,
  { seed, limits }: Run,
  watch: Stopwatch,
  tell: (told: Told) => void,
): Promise<RunResult> {
  const seconds = limits.seconds ?? HEURISTIC_SECONDS;
  let best: Cost | undefined;
  const judge = (order: unknown): Result<Cost, string> => {
    if (!isNames(order)) return fail('the answer is not an array of names');
    const judged = instance.judge(order);
    if (judged.ok && watch.found(judged.value)) {
      best = judged.value;
      tell({ best, firstSeconds: watch.firstSeconds, bestSeconds: watch.bestSeconds });
    }
    return judged;
  };
  const tools: HeuristicTools = {
    seed,
    random: seededRandom(seed),
    seconds,
    secondsLeft: () => Math.max(0, seconds - watch.seconds),
    report: (order) => {
      const before = best;
      return judge(order).ok && best !== before;
    },
  };
  const answer = await answerOf(instance, load, tools);
  const judged = answer.ok ? judge(answer.value) : answer;
  const totalSeconds = watch.seconds;
  if (!judged.ok) return emptyResult('failed', judged.error, instance.terms, totalSeconds);
  return { ...toldResult(instance, { ...watch, best }, totalSeconds), note: BOUND };
}

const BOUND = 'bound of the empty order, not of the heuristic';

async function answerOf(
  instance: PackedInstance,
  load: () => Promise<unknown>,
  tools: HeuristicTools,
): Promise<Result<unknown, string>> {
  try {
    const heuristic = await load();
    if (typeof heuristic !== 'function') return fail('the default export of the module is not a function');
    return ok(await (heuristic as Heuristic)(heuristicProblem(instance), tools));
  } catch (error) {
    return fail(`threw ${errorText(error)}`);
  }
}

/** What was thrown in a few words, whatever it was. */
export function errorText(error: unknown): string {
  try {
    const text = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    return text.split('\n')[0]!.slice(0, 200);
  } catch {
    return 'something without words';
  }
}

const isNames = (order: unknown): order is readonly string[] =>
  Array.isArray(order) && order.every((name) => typeof name === 'string');

/** A run of which the legal orders are known that it told of; the bound is the root's. */
export function toldResult(instance: PackedInstance, told: Told, totalSeconds: number): RunResult {
  const { best, firstSeconds, bestSeconds } = told;
  const bare = emptyResult('none-in-budget', '', instance.terms, totalSeconds);
  if (best === undefined) return bare;
  const bound = heuristicProblem(instance).bound([]);
  const proved = compareCost(bound, best) >= 0;
  return {
    ...{ ...bare, best, bound, firstSeconds, bestSeconds, provedTerms: equalTerms(best, bound) },
    ...{ outcome: proved ? 'optimal' : 'feasible', proofSeconds: proved ? totalSeconds : undefined },
  };
}

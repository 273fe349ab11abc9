import { bestSequence, type BestSequence } from '../algorithms/best-sequence.js';
import { equalTerms } from '../algorithms/cost.js';
import type { Cost, SearchBest, SearchReport } from '../algorithms/problem.js';
import { compareVectors, rounded } from '../base/order.js';
import type { Facts } from '../facts/facts.js';
import type { TackOrder } from '../model/plan-tack-order.js';
import { TACK_HABITS } from '../model/tack-habit.js';
import { DistortionRun, runStage } from '../rules/distortion-run.js';
import type { CompleteOrder, OrderCompleter } from './complete.js';
import { distortionStage } from './distortion-stage.js';
import type { RobotDraft, StageDraft, StageTack } from './stage-draft.js';
import { planObjective } from './objective.js';
import { stageSequence } from './stage-sequence.js';
import { habitNumbers, inNumbers, worthIt, type Phases } from './tack-order.js';

type Report = SearchReport<StageDraft, CompleteOrder>;
type Best = SearchBest<StageDraft, CompleteOrder>;

/** The best order of parts with the tacks of its stages ordered anew, and how each order compares. */
export interface Reordered {
  readonly search: Report;
  /** What the search came to before, and in how many stages tacks changed places; absent where no cost changed by it. */
  readonly before?: { readonly search: Report; readonly stages: number } | undefined;
  /** One entry a stage; undefined for one of fewer than two tacks, and for one in which a person tacks. */
  readonly tackOrders: readonly (TackOrder | undefined)[];
}

/** All orders of up to seven tacks; of more, the search goes on from so many beginnings. */
const LIMITS = { most: 5040, steps: 60 };

/** Once the budget is spent: all orders of three tacks, of more only those by habit. */
const HURRIED = { most: 6, steps: 0 };

const phasesOf = ({ tacks }: RobotDraft): Phases<StageTack> => ({
  securing: tacks.filter(({ phase }) => phase === 'securing'),
  completing: tacks.filter(({ phase }) => phase === 'completing'),
});

/** The stage with its tacks in another order; who lays which and how stays as it is. */
function withOrder(draft: RobotDraft, order: readonly number[]): RobotDraft {
  const { securing, completing } = inNumbers(phasesOf(draft), order);
  return { ...draft, tacks: [...securing, ...completing].map((tack, i) => ({ ...tack, order: i + 1 })) };
}

/**
 * Orders the tacks of the best order of parts anew, stage by stage, each after all that the stages before have done: where
 * another order is predicted to leave the part nearer to its place by `distortion.order-gain`, the whole is completed with
 * it, and it is taken unless that is refused or worse in the objective's distortion or a term that counts before it. Once
 * the budget is spent the stages that are left keep their order, and say so.
 */
export function reordered(
  facts: Facts,
  completer: OrderCompleter,
  report: Report,
  stopped: () => boolean = () => false,
): Reordered {
  if (!report.best) return { search: report, tackOrders: [] };
  const { scene, settings } = facts;
  const run = new DistortionRun(scene, settings);
  let best = report.best;
  const tackOrders = best.steps.map((draft, i) => {
    const tried =
      draft.manual || draft.tacks.length < 2
        ? undefined
        : tryOrders(facts, completer, run, best, draft, i, stopped());
    if (tried) best = tried.best;
    runStage(run, distortionStage(best.steps[i]!));
    return tried?.tackOrder;
  });
  if (best === report.best) return { search: report, tackOrders };
  if (equalTerms(best.cost, report.best.cost) === best.cost.length)
    return { search: { ...report, best }, tackOrders };
  const stages = best.steps.filter((draft, i) => draft !== report.best!.steps[i]).length;
  return { search: withBest(report, best), before: { search: report, stages }, tackOrders };
}

/** One stage of an order: its tacks in the best order there is, if that is worth it and can be had. */
function tryOrders(
  facts: Facts,
  completer: OrderCompleter,
  before: DistortionRun,
  best: Best,
  draft: RobotDraft,
  index: number,
  hurried: boolean,
): { readonly best: Best; readonly tackOrder: TackOrder } {
  const { scene, settings } = facts;
  const phases = phasesOf(draft);
  const own = draft.tacks.map((_, i) => i);
  const habits = TACK_HABITS.map((habit) => habitNumbers(facts, habit, phases));
  const found = bestSequence(
    stageSequence(scene, before, distortionStage(draft)),
    [own, ...habits],
    hurried ? HURRIED : LIMITS,
  );
  const there = found.known[0]!;
  const wanted = worthIt(there, found, settings.distortion['order-gain']);
  if (wanted === there)
    return {
      best,
      tackOrder: stated(
        found,
        there.value,
        mm(there.value) === mm(found.least.value) ? 'best' : 'little-gain',
      ),
    };
  if (hurried) return { best, tackOrder: stated(found, there.value, 'budget') };
  const steps = best.steps.map((step, i) => (i === index ? withOrder(draft, wanted.order) : step));
  const done = completer.complete(steps);
  if (done.kind === 'refused') return { best, tackOrder: stated(found, there.value, 'refused') };
  if (isDearer(planObjective(facts), done.cost, best.cost))
    return { best, tackOrder: stated(found, there.value, 'dearer') };
  return {
    best: { steps, cost: done.cost, result: done.result },
    tackOrder: stated(found, wanted.value, 'best'),
  };
}

/** Whether a cost is worse in distortion or the terms that count before it: in all terms where it does not count. */
function isDearer(objective: readonly string[], cost: Cost, than: Cost): boolean {
  const place = objective.indexOf('distortion');
  const end = place < 0 ? objective.length : place + 1;
  return compareVectors(cost.slice(0, end), than.slice(0, end)) > 0;
}

/** Millimetres as a plan states them. */
const MILLIMETRES = 3;

/** What a plan states of a value; null where it is infinite. */
const mm = (value: number): number | null => (value === Infinity ? null : rounded(value, MILLIMETRES));

const stated = (
  { known, least, tried, all }: BestSequence,
  predicted: number,
  kept: TackOrder['kept'],
): TackOrder => ({
  predicted: mm(predicted),
  habits: TACK_HABITS.map((habit, i) => ({ habit, predicted: mm(known[i + 1]!.value) })),
  compared: tried,
  all,
  least: mm(least.value),
  kept,
});

/**
 * The report with another best order. The search has bounded orders whose tacks the local model put in order; of the
 * terms from the first that changed on, nothing is known of others but that they are not below zero.
 */
function withBest(report: Report, best: Best): Report {
  const changed = equalTerms(best.cost, report.best!.cost);
  const bound = report.bound.map((value, i) => (i < changed ? value : 0));
  const provedTerms = equalTerms(best.cost, bound);
  const outcome = provedTerms === bound.length ? 'optimal' : 'feasible';
  return { ...report, best, bound, provedTerms, outcome };
}

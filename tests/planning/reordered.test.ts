import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Completion } from '../../src/algorithms/problem.js';
import { Budget } from '../../src/base/budget.js';
import type { CompleteOrder, OrderCompleter } from '../../src/planning/complete.js';
import { factsOf, planWeldment, type PlanningReport } from '../../src/planning/plan.js';
import { reordered } from '../../src/planning/reordered.js';
import type { StageDraft } from '../../src/planning/stage-draft.js';
import { habitNumbers } from '../../src/planning/tack-order.js';
import { inputsOf, story } from '../support/planned.js';

type Report = PlanningReport['search'];
type Said = Completion<CompleteOrder>;

let planned: PlanningReport;
/** The same with the tacks of the wall ends first, as the habit is. */
let usual: Report;

/** The stage with its tacks in the first habit. */
function inUsualOrder(draft: StageDraft): StageDraft {
  if (draft.manual) return draft;
  const securing = draft.tacks.filter(({ phase }) => phase === 'securing');
  const completing = draft.tacks.filter(({ phase }) => phase === 'completing');
  const all = [...securing, ...completing];
  const order = habitNumbers(planned.facts, 'ends-first', { securing, completing });
  return { ...draft, tacks: order.map((number, i) => ({ ...all[number]!, order: i + 1 })) };
}

/** Less than the story's own gain of the best order, mm. */
const GAIN = 0.005;

beforeAll(async () => {
  const { weldment, cell, settings } = inputsOf(story('tee-tacked-on-alternate-sides'));
  if (weldment.kind !== 'geometric') throw new Error('a story has shapes');
  const finer = { ...settings, distortion: { ...settings.distortion, 'order-gain': GAIN } };
  const facts = factsOf(weldment, cell!, finer, await loadLinearPrograms());
  planned = planWeldment(facts, { budget: () => new Budget({ steps: 500 }) });
  const best = planned.search.best!;
  usual = { ...planned.search, best: { ...best, steps: best.steps.map(inUsualOrder) } };
}, 120_000);

/** A completer that says always the same, and what it was asked. */
function saying(answer: (steps: readonly StageDraft[]) => Said): OrderCompleter & { asked: number } {
  const completer = {
    asked: 0,
    complete(steps: readonly StageDraft[]): Said {
      completer.asked += 1;
      return answer(steps);
    },
  };
  return completer as unknown as OrderCompleter & { asked: number };
}

/** The order legal at the costs of the best one with this much added, term by term. */
const legal = (added: readonly number[]) => (): Said => ({
  kind: 'legal',
  cost: usual.best!.cost.map((value, i) => value + (added[i] ?? 0)),
  result: usual.best!.result,
});

const tacksOf = ({ best }: Report): string =>
  best!.steps
    .at(-1)!
    .tacks.map(({ id }) => id)
    .join(' ');

describe('the tacks of the best order of parts', () => {
  it('are put in the better order where that can be had', () => {
    const completer = saying(legal([]));
    const { search, tackOrders } = reordered(planned.facts, completer, usual);
    expect(completer.asked).toBe(1);
    expect(tacksOf(search)).not.toBe(tacksOf(usual));
    expect(search.best!.steps.at(-1)!.tacks.map(({ order }) => order)).toEqual([1, 2, 3, 4]);
    const [none, wall] = tackOrders;
    expect(none).toBeUndefined();
    expect(wall).toMatchObject({ compared: 24, all: true, kept: 'best' });
    expect(wall!.predicted).toBe(wall!.least);
    for (const { predicted } of wall!.habits) expect(wall!.predicted).toBeLessThan(predicted! - GAIN);
    // At the same cost all that was proved stays so.
    expect(search).toMatchObject({
      outcome: usual.outcome,
      provedTerms: usual.provedTerms,
      bound: usual.bound,
    });
  });

  it('stay as they are where the best order is there already', () => {
    const completer = saying(() => {
      throw new Error('nothing is to be completed');
    });
    const { search, tackOrders } = reordered(planned.facts, completer, planned.search);
    expect(search).toBe(planned.search);
    expect(tackOrders).toEqual(planned.tackOrders);
  });

  it('stay as they are where the better order is refused', () => {
    const { search, tackOrders } = reordered(
      planned.facts,
      saying(() => ({ kind: 'refused', depth: 2, reason: 'tried' })),
      usual,
    );
    expect(search).toBe(usual);
    const wall = tackOrders[1]!;
    expect(wall.kept).toBe('refused');
    expect(wall.predicted! - wall.least!).toBeGreaterThanOrEqual(GAIN);
  });

  it('stay as they are where a term that counts first would be worse', () => {
    const { search, tackOrders } = reordered(planned.facts, saying(legal([1])), usual);
    expect(search).toBe(usual);
    expect(tackOrders[1]!.kept).toBe('dearer');
  });

  it('lose the proof of a term that changes, and of those after it', () => {
    const { facts } = planned;
    const terms = facts.settings.objective.length;
    const last = Array.from({ length: terms }, (_, i) => (i === terms - 1 ? -1 : 0));
    const { search } = reordered(facts, saying(legal(last)), usual);
    expect(usual.provedTerms).toBe(terms);
    expect(search).toMatchObject({ outcome: 'feasible', provedTerms: terms - 1 });
    expect(search.bound.at(-1)).toBe(0);
    expect(search.bound.slice(0, -1)).toEqual(usual.bound.slice(0, -1));
  });
});

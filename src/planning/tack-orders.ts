import { bestSequence } from '../algorithms/best-sequence.js';
import { Kept } from '../base/kept.js';
import { has } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { siteId } from '../facts/tack-sites.js';
import { TACK_HABITS } from '../model/tack-habit.js';
import { holdKey } from './held-grip.js';
import { localSequence, type OwnHold } from './local-distortion.js';
import type { Newcomer } from './securing.js';
import { numbered, type StageTack } from './stage-draft.js';
import { habitNumbers, inNumbers, worthIt, type Phases } from './tack-order.js';

/**
 * The order of the tacks of newcomers, by the local model: the one that leaves the newcomer nearest to its place, or the
 * usual one where that is not worth it. Answers are kept.
 */
export class TackOrders {
  private readonly answers: Kept<readonly number[]>;

  constructor(private readonly facts: Facts) {
    this.answers = new Kept(facts.keeping);
  }

  /** The tacks of a stage in their order; `phases` have them in the usual one. */
  of(newcomer: Newcomer, phases: Phases, own: OwnHold): readonly StageTack[] {
    const order = this.answers.get(this.keyOf(newcomer, phases, own), () =>
      this.bestOrder(newcomer, phases, own),
    );
    const { securing, completing } = inNumbers(phases, order);
    return numbered(securing, completing);
  }

  private bestOrder(newcomer: Newcomer, phases: Phases, own: OwnHold): readonly number[] {
    const count = phases.securing.length + phases.completing.length;
    if (count < 2) return Array.from({ length: count }, (_, i) => i);
    const sequence = localSequence(this.facts, newcomer, phases, own);
    const habits = TACK_HABITS.map((habit) => habitNumbers(habit, phases));
    const { 'order-gain': gain } = this.facts.settings.distortion;
    const best = bestSequence(sequence, habits, { most: 5040, steps: 50 });
    return worthIt(best.known[0]!, best, gain).order;
  }

  /** Only what touches the newcomer can stop it. */
  private keyOf(
    { part, inPlace }: Newcomer,
    { securing, completing }: Phases,
    { hold, heldOn }: OwnHold,
  ): string {
    const near = this.facts.scene.contacts.flatMap(({ a, b }) =>
      a === part || b === part ? [a, b].filter((i) => has(inPlace, i)) : [],
    );
    const ids = [securing, completing].map((tacks) => tacks.map(({ site }) => siteId(site)).join(' '));
    const held = hold && `${holdKey(hold)} ${heldOn === true}`;
    return `${part} ${near.join()} ${held} ${ids.join(' | ')}`;
  }
}

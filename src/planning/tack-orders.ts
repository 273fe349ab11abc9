import { bestSequence } from '../algorithms/best-sequence.js';
import { Kept } from '../base/kept.js';
import type { Facts } from '../facts/facts.js';
import { siteId } from '../facts/tack-sites.js';
import { TACK_HABITS } from '../model/tack-habit.js';
import { holdKey } from './held-grip.js';
import { localSequence, type OwnHold } from './local-distortion.js';
import type { Newcomer } from './securing.js';
import { numbered, type StageTack } from './stage-draft.js';
import type { ChosenTack } from './tack-layout.js';
import { habitNumbers, inUsualOrder, worthIt, type Phases } from './tack-order.js';
import { touching } from './touching.js';

/**
 * All orders of up to six tacks; of more, the search goes on from so many beginnings. Seven would take seconds a part, and
 * the best order of parts has its tacks ordered anew (reordered.ts).
 */
const LIMITS = { most: 720, steps: 40 };

/**
 * The order of the tacks of newcomers, by the local model: the one that leaves the newcomer nearest to its place, or the
 * usual one where that is not worth it. Answers are kept.
 */
export class TackOrders {
  private readonly answers: Kept<readonly number[]>;

  constructor(private readonly facts: Facts) {
    this.answers = new Kept(facts.keeping);
  }

  /** The tacks of a newcomer in their order, of which these secure it. */
  of(
    newcomer: Newcomer,
    tacks: readonly ChosenTack[],
    securing: readonly ChosenTack[],
    own: OwnHold = {},
  ): readonly StageTack[] {
    const phases = inUsualOrder(this.facts, tacks, securing);
    const order = this.answers.get(this.keyOf(newcomer, phases, own), () =>
      this.bestOrder(newcomer, phases, own),
    );
    return numbered(phases, order);
  }

  private bestOrder(newcomer: Newcomer, phases: Phases, own: OwnHold): readonly number[] {
    const habits = TACK_HABITS.map((habit) => habitNumbers(this.facts, habit, phases));
    const usual = habits[0]!;
    if (usual.length < 2) return usual;
    const best = bestSequence(localSequence(this.facts, newcomer, phases, own), habits, LIMITS);
    return worthIt(best.known[0]!, best, this.facts.settings.distortion['order-gain']).order;
  }

  /** Only what touches the newcomer can stop it. */
  private keyOf(
    { part, inPlace }: Newcomer,
    { securing, completing }: Phases,
    { hold, heldOn }: OwnHold,
  ): string {
    const near = touching(this.facts.scene, part, inPlace);
    const ids = [securing, completing].map((tacks) => tacks.map(({ site }) => siteId(site)).join(' '));
    const held = hold && `${holdKey(hold)} ${heldOn === true}`;
    return `${part} ${near.join()} ${held} ${ids.join(' | ')}`;
  }
}

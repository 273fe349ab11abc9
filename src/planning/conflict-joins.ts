import { Kept } from '../base/kept.js';
import { emptySet, setKey } from '../base/part-set.js';
import type { Approach } from '../facts/approaches.js';
import type { Facts } from '../facts/facts.js';
import type { FactKind } from '../model/reason-fact.js';
import type { Refusal } from '../model/verdict.js';
import { Blame, type Asked, type ConflictFact, type FactTable } from './conflict-facts.js';
import { ConflictHandling, type Candidate } from './conflict-handling.js';
import { ConflictOrder } from './conflict-order.js';
import { ConflictSecuring, SECURING } from './conflict-securing.js';
import { ConflictWishes } from './conflict-wishes.js';
import { holdBy, holdKey } from './held-grip.js';
import type { AtAngle } from './index-angles.js';
import type { Newcomer } from './securing.js';

/** Kinds that are judged together with the grip that brings a part, wishes aside. */
const BY_GRIP: readonly FactKind[] = [
  ...(['grips', 'rest', 'capacity', 'reach', 'arm-room', 'gripper-room'] as const),
  ...(['accuracy', 'hold', 'reserve'] as const),
];
/** Kinds whose answer may hang on which part was the first. */
const ABOUT_THE_FIRST: readonly FactKind[] = ['accuracy', 'hold', 'reserve'];

/** Whether one part may come now, as far as the facts asked for say. */
export class ConflictJoins {
  readonly order: ConflictOrder;
  readonly handling: ConflictHandling;
  readonly securing: ConflictSecuring;
  private readonly wishes: ConflictWishes;
  private readonly answers = new Kept<readonly ConflictFact[]>();
  private readonly misfits = new Map<ConflictFact, Refusal>();

  constructor(
    private readonly facts: Facts,
    private readonly table: FactTable,
  ) {
    this.wishes = new ConflictWishes(facts, table);
    this.order = new ConflictOrder(facts, table, this.wishes);
    this.handling = new ConflictHandling(facts, table);
    this.securing = new ConflictSecuring(facts, table, this.wishes);
  }

  /** Of all ways that were tried, the one that came nearest to meeting a fact of accuracy. */
  nearestMisfit(fact: ConflictFact): Refusal | undefined {
    return this.misfits.get(fact);
  }

  /** Whether what is asked for may hang on which part was the first. */
  doesFirstCount(asked: Asked): boolean {
    return asked.may(ABOUT_THE_FIRST) || (asked.may(['wish']) && this.wishes.isAboutHold());
  }

  /** Facts asked for that by themselves keep a part from coming, at an index angle; none where it may come. */
  against(at: AtAngle, newcomer: Newcomer, asked: Asked): readonly ConflictFact[] {
    const { part, inPlace, clamped } = newcomer;
    const cheap = new Blame(asked);
    if (cheap.refuses(this.order.against(part, inPlace))) return [...cheap.facts];
    if (asked.isFree(part)) return [];
    if (asked.may(['contact'], part) && cheap.refuses(this.order.againstFooting(part, inPlace)))
      return [...cheap.facts];
    const key = `${part} ${setKey(inPlace)} ${clamped} ${at.facts.angle} ${asked.signature(part)}`;
    return this.answers.get(key, () => this.judged(at, newcomer, asked));
  }

  private judged(at: AtAngle, newcomer: Newcomer, asked: Asked): readonly ConflictFact[] {
    const { part, inPlace } = newcomer;
    if (asked.may(['wish'], part)) {
      const tacks = this.securing.againstTackWishes(at, newcomer, asked);
      if (tacks.length > 0) return tacks;
    }
    if (this.facts.scene.parts[part]!.part.manual) {
      const blame = new Blame(asked);
      if (asked.may(SECURING, part)) this.securing.canBeSet(at, newcomer, blame);
      return [...blame.facts];
    }
    const ways = new Blame(asked);
    const byGrip = this.isByGrip(part, asked);
    const open =
      byGrip || asked.may(['approach'], part) ? this.handling.open(at.facts, part, inPlace, ways) : undefined;
    if (open?.length === 0 && ways.facts.size > 0) return [...ways.facts];
    const seams = new Blame(asked);
    if (asked.may(['torch'], part) && seams.refuses(this.securing.againstSeams(at, newcomer)))
      return [...seams.facts];
    return byGrip ? this.byGrip(at, newcomer, open!, ways) : [];
  }

  /** Whether anything that is asked about a part hangs on the grip that brings it. */
  private isByGrip(part: number, asked: Asked): boolean {
    return asked.may(BY_GRIP, part) || (asked.may(['wish'], part) && this.wishes.isAboutHandling(part));
  }

  /** Every candidate in turn until one is not refused; otherwise the fewest kinds of facts that were found to refuse all. */
  private byGrip(
    at: AtAngle,
    newcomer: Newcomer,
    open: readonly Approach[],
    ways: Blame,
  ): readonly ConflictFact[] {
    const { asked } = ways;
    const { part, inPlace } = newcomer;
    const handling = new Blame(asked);
    const rest = new Blame(asked);
    const held = new Map<string, boolean>();
    let any = false;
    for (const candidate of this.handling.candidates(at.facts, part, inPlace, open, handling)) {
      any = true;
      if (!this.isFitted(newcomer, candidate, rest)) continue;
      const { by } = candidate;
      const key = by === undefined ? 'any' : holdKey(holdBy(part, by));
      const known = held.get(key) ?? this.isHeld(at, newcomer, candidate, rest);
      held.set(key, known);
      if (known) return [];
    }
    if (!any) return [...new Set([...ways.facts, ...handling.facts])];
    return [...new Set([...ways.facts, ...handling.facts, ...rest.facts])];
  }

  private isHeld(at: AtAngle, newcomer: Newcomer, { by }: Candidate, blame: Blame): boolean {
    if (by && blame.refuses(this.wishes.againstGrip(newcomer.part, by.grip))) return false;
    return this.securing.secures(at, newcomer, by, blame);
  }

  /** Whether a part meets those in place, were they located or not, by one of the ways in which it may be taken. */
  private isFitted({ part, inPlace, clamped }: Newcomer, { taken }: Candidate, blame: Blame): boolean {
    if (taken === undefined) return true;
    const nothing = emptySet(this.facts.scene.parts.length);
    const accuracy = blame.asked.may(['accuracy'], part);
    for (const way of taken) {
      if (blame.refuses(this.wishes.againstTaking(part, way))) continue;
      if (!accuracy) return true;
      for (const located of [nothing, inPlace]) {
        const among = { parts: inPlace, first: clamped, located, seated: nothing };
        const fitUp = this.facts.fitUp(part, way.grips, way.lies, among);
        if (fitUp.ok || !blame.refuses([this.misfit(part, fitUp.error)])) return true;
      }
    }
    return false;
  }

  private misfit(part: number, refusal: Refusal): ConflictFact {
    const fact = this.table.of('accuracy', part, { other: refusal.subjects[1]!, about: refusal.code });
    const known = this.misfits.get(fact);
    if (known === undefined || refusal.value! < known.value!) this.misfits.set(fact, refusal);
    return fact;
  }
}

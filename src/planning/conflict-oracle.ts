import type { Tested } from '../algorithms/minimal-conflict.js';
import type { Budget } from '../base/budget.js';
import { emptySet, has, isSubset, setKey, setOf, withMember, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { FactKind } from '../model/reason-fact.js';
import { Asked, FactTable, inGivingOrder, STAGES, type ConflictFact } from './conflict-facts.js';
import { ConflictJoins } from './conflict-joins.js';
import { everyAngle, type AtAngle } from './index-angles.js';

/** What may come next depends on it. */
interface Reached {
  readonly inPlace: PartSet;
  readonly first: number | undefined;
  /** Index angle of the work table; undefined before the first part. */
  readonly angle: number | undefined;
}

/** Kinds of facts whose answer may hang on any part in place, not only on those that the fact names. */
const ABOUT_ALL: readonly FactKind[] = ['arm-room', 'torch', 'hold', 'reserve', 'turning', 'wish'];

/** Kinds of facts that take statics, and of how many parts at most they are asked for further sets; our choice. */
const DEAR: readonly FactKind[] = ['hold', 'reserve'];
const FEW_PARTS = 6;
/** Sets of parts in place that are looked at to find out whether a fact that takes statics rules every plan out alone; our choice. */
const STEPS_ALONE = 256;

/** Parts between which an order is looked for, and where the others are. */
interface Universe {
  readonly parts: readonly number[];
  readonly starts: readonly Reached[];
  readonly goal: PartSet;
}

/**
 * Whether any order exists when only some facts are asked for: a search of all sets of parts that can be in place. A fact that
 * is not asked counts as met wherever it would be, so the answer is a relaxation of planning: an order that planning finds is
 * one here too. It is monotone: a part may come when some candidate way of it fails none of the facts asked for, what a
 * candidate fails does not hang on what is asked, and so asking for more only takes orders away.
 *
 * Parts of which nothing is asked, and which no fact asked for names, count as there from the start or as not there yet.
 */
export class ConflictOracle {
  readonly table: FactTable;
  readonly joins: ConflictJoins;
  private readonly angles: readonly AtAngle[];
  private most: Budget | undefined;

  constructor(
    private readonly facts: Facts,
    /** Makes what one test may spend: a step is a set of parts in place, looked at with everything that may come next. */
    private readonly budget: () => Budget,
  ) {
    this.table = new FactTable(facts.scene);
    this.joins = new ConflictJoins(facts, this.table);
    this.angles = everyAngle(facts);
  }

  /** From now on all tests together may spend no more than this, beside what each of them may. */
  limit(most: Budget): void {
    this.most = most;
  }

  /**
   * Facts among all but these that rule every order out, in the order in which they are to be given up. Beside facts that are
   * dropped, those that only do so across the stages are not looked for: where there are none, that takes as long as planning.
   */
  among(dropped: readonly ConflictFact[]): Tested<ConflictFact> {
    let undecided = false;
    for (const kinds of STAGES) {
      if (dropped.length > 0 && kinds === undefined) continue;
      if (dropped.length > 0 && this.isDear(kinds!)) {
        undecided = true;
        continue;
      }
      const said = this.search(Asked.allBut(dropped, kinds));
      if (typeof said !== 'string') return inGivingOrder(said);
      undecided ||= said === 'undecided';
    }
    return undecided ? 'undecided' : 'free';
  }

  /** Whether one fact rules every order out by itself, as far as few steps tell. */
  isEnough(fact: ConflictFact): boolean {
    const steps = DEAR.includes(fact.kind) ? STEPS_ALONE : Infinity;
    return typeof this.search(Asked.only([fact]), steps) !== 'string';
  }

  /** Whether some kinds of facts are not asked about further sets: of many parts that takes as long as planning. */
  private isDear(kinds: readonly FactKind[]): boolean {
    const many = this.facts.scene.parts.length > FEW_PARTS;
    return many && DEAR.some((kind) => kinds.includes(kind));
  }

  /** Whether these facts alone rule every order out, and which of them were met in proving it. */
  test(facts: readonly ConflictFact[]): Tested<ConflictFact> {
    const said = this.search(Asked.only(facts));
    if (typeof said === 'string' || said.size === facts.length)
      return typeof said === 'string' ? said : facts;
    const met = facts.filter((fact) => said.has(fact));
    // What refuses one candidate may let another one count that was not there before: so it is tested by itself.
    const again = this.search(Asked.only(met));
    return typeof again === 'string' ? facts : met;
  }

  /** Whether facts of some kinds alone, all there are, rule every order out. */
  rulesOut(kinds: readonly FactKind[]): boolean {
    return typeof this.search(Asked.allBut([], kinds)) !== 'string';
  }

  private search(asked: Asked, most = Infinity): ReadonlySet<ConflictFact> | 'free' | 'undecided' {
    const budget = this.budget();
    const mayGoOn = (): boolean => budget.steps < most && this.most?.take() !== false && budget.take();
    const met = new Set<ConflictFact>();
    const seen = new Set<string>();
    const { parts, starts, goal } = this.universe(asked);
    const firstCounts = this.joins.doesFirstCount(asked);
    const waiting = [...starts];
    for (let state = waiting.pop(); state; state = waiting.pop()) {
      if (isSubset(goal, state.inPlace)) return 'free';
      if (!mayGoOn()) return 'undecided';
      for (const part of parts) {
        if (has(state.inPlace, part)) continue;
        const after = { inPlace: withMember(state.inPlace, part), first: state.first ?? part };
        for (const at of this.angles) {
          const next = { ...after, angle: at.facts.angle };
          const key = `${setKey(next.inPlace)} ${firstCounts ? next.first : ''} ${next.angle}`;
          if (seen.has(key)) continue;
          const against = this.against(at, part, state, asked);
          for (const fact of against) met.add(fact);
          if (against.length > 0) continue;
          seen.add(key);
          waiting.push(next);
        }
      }
    }
    return met;
  }

  private against(at: AtAngle, part: number, state: Reached, asked: Asked): readonly ConflictFact[] {
    const { inPlace, first, angle } = state;
    if (angle !== undefined && angle !== at.facts.angle) {
      const turning = this.table.of('turning', part);
      if (asked.has(turning) && this.facts.turnBlocked(inPlace)) return [turning];
    }
    return this.joins.against(at, { part, inPlace, clamped: first }, asked);
  }

  private universe(asked: Asked): Universe {
    const count = this.facts.scene.parts.length;
    const all = Array.from({ length: count }, (_, part) => part);
    const nothing = { inPlace: emptySet(count), first: undefined, angle: undefined };
    const { facts } = asked;
    if (facts === undefined || facts.some(({ kind }) => ABOUT_ALL.includes(kind)))
      return { parts: all, starts: [nothing], goal: setOf(count, all) };
    const { index } = this.facts.scene;
    const named = new Set(
      facts.flatMap(({ of, kind, other, also }) => [
        of,
        ...[other, also].flatMap((id) => (id === undefined ? [] : (index.get(id) ?? []))),
        ...(kind === 'contact' ? all.filter((part) => has(this.joins.order.footings(of), part)) : []),
      ]),
    );
    const others = all.filter((part) => !named.has(part));
    const parts = all.filter((part) => named.has(part));
    const begun = this.angles.map(({ facts: { angle } }) => ({
      ...{ inPlace: setOf(count, others), first: others[0], angle },
    }));
    return {
      parts,
      starts:
        others.length === 0 || facts.some(({ kind }) => kind === 'first') ? [nothing] : [nothing, ...begun],
      goal: setOf(count, parts),
    };
  }
}

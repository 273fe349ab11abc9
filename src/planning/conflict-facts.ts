import { compareText } from '../base/order.js';
import { Kept } from '../base/kept.js';
import type { FactKind, ReasonFact } from '../model/reason-fact.js';
import type { Scene } from '../model/scene.js';

/** A fact of one part that may stand against a plan; one object for each, so that facts are compared by identity. */
export interface ConflictFact extends ReasonFact {
  /** Number of the part. */
  readonly of: number;
  /** Number of the other part of a seam, or of a wish for a tack: the fact is one, whichever of the two comes later. */
  readonly beside?: number;
  readonly key: string;
}

/** Conditions in the order in which they are given up: those that are told if possible come last. */
const CONDITIONS: readonly (readonly FactKind[])[] = [
  ['turning'],
  ['reserve', 'hold', 'torch'],
  ['accuracy'],
  ['arm-room', 'gripper-room', 'reach', 'capacity', 'rest'],
  ['approach'],
  ['contact'],
  ['grips', 'wish', 'first', 'needs', 'blocking'],
];

const conditionOf = ({ kind }: ConflictFact): number => CONDITIONS.findIndex((kinds) => kinds.includes(kind));

/** Facts of one part and one condition, which are first given up together. */
export const batchOf = (fact: ConflictFact): string => `${conditionOf(fact)} ${fact.of}`;

/** The order in which facts are given up; whatever the order in which they were met. */
export const inGivingOrder = (facts: Iterable<ConflictFact>): readonly ConflictFact[] =>
  [...facts].sort((p, q) => {
    const [i, j] = [p, q].map(conditionOf) as [number, number];
    if (i !== j) return i - j;
    const kinds = CONDITIONS[i]!;
    return p.of - q.of || kinds.indexOf(p.kind) - kinds.indexOf(q.kind) || compareText(p.key, q.key);
  });

/** Sets of facts with those first that are told if possible: the condition that is given up soonest decides, then their number. */
export const byWhatIsTold = (p: readonly ConflictFact[], q: readonly ConflictFact[]): number => {
  const [i, j] = [p, q].map((facts) => Math.min(...facts.map(conditionOf))) as [number, number];
  return j - i || p.length - q.length;
};

const ORDER: readonly FactKind[] = ['needs', 'blocking', 'first', 'wish'];
const FOOTING: readonly FactKind[] = [...ORDER, 'contact'];
const HANDLING: readonly FactKind[] = [
  'approach',
  'grips',
  'arm-room',
  'gripper-room',
  'reach',
  'capacity',
  'rest',
];

/** Kinds of facts that are asked for together, what is quickly judged and told if possible first; at last all there are. */
export const STAGES: readonly (readonly FactKind[] | undefined)[] = [
  ORDER,
  FOOTING,
  [...FOOTING, 'approach'],
  [...FOOTING, 'turning'],
  [...FOOTING, 'torch'],
  [...FOOTING, 'grips', 'accuracy'],
  [...FOOTING, ...HANDLING],
  [...FOOTING, 'grips', 'torch', 'hold', 'reserve'],
  undefined,
];

type PairKind = 'torch' | 'wish';
const OF_PAIRS: readonly FactKind[] = ['torch', 'wish'] satisfies PairKind[];

/** What a fact names beside its part. */
type Named = Omit<ReasonFact, 'kind' | 'part'>;

/** The facts of a weldment, each made when it is first met. */
export class FactTable {
  /** Every fact that was met so far. */
  readonly met: ConflictFact[] = [];
  private readonly facts = new Kept<ConflictFact>();

  constructor(private readonly scene: Scene) {}

  /** A fact of two parts between which tacks are laid: of the one that is later in the file, beside the other. */
  ofPair(kind: PairKind, p: number, q: number, named: Named): ConflictFact {
    return this.of(kind, Math.max(p, q), { ...named, other: this.nameOf(Math.min(p, q)) });
  }

  of(kind: FactKind, part: number, named: Named = {}): ConflictFact {
    const { other, also, robot, gripper, seam, about, wish } = named;
    const key = [kind, part, other, also, robot, gripper, seam, about, wish]
      .map((name) => name ?? '')
      .join('\n');
    return this.facts.get(key, () => {
      const pair = OF_PAIRS.includes(kind) && other !== undefined;
      const beside = pair ? { beside: this.scene.index.get(other)! } : {};
      const fact = { kind, part: this.nameOf(part), ...named, of: part, ...beside, key };
      this.met.push(fact);
      return fact;
    });
  }

  nameOf(part: number): string {
    return this.scene.parts[part]!.part.id;
  }
}

/** How often each fact stood against a candidate. */
export type Tally = Map<ConflictFact, number>;

/** Which facts are asked for; one that is not counts as met wherever it would be. */
export class Asked {
  private readonly named: ReadonlySet<ConflictFact>;
  private readonly signatures = new Map<number, string>();

  private constructor(
    facts: readonly ConflictFact[],
    /** Whether these are asked for, or all but these. */
    private readonly only: boolean,
    /** Of all but these, the kinds that are asked for; every one where it is left out. */
    private readonly kinds?: readonly FactKind[],
    /** Where it is counted how often each stands against a candidate. */
    readonly tally?: Tally,
  ) {
    this.named = new Set(facts);
    for (const { of, beside, key } of inGivingOrder(facts))
      for (const part of [of, ...(beside === undefined ? [] : [beside])])
        this.signatures.set(part, `${this.signatures.get(part) ?? ''}${key};`);
  }

  static only(facts: readonly ConflictFact[]): Asked {
    return new Asked(facts, true);
  }

  static allBut(facts: readonly ConflictFact[], kinds?: readonly FactKind[]): Asked {
    return new Asked(facts, false, kinds);
  }

  /** Every fact, counted. */
  static counting(tally: Tally): Asked {
    return new Asked([], false, undefined, tally);
  }

  has(fact: ConflictFact): boolean {
    return this.named.has(fact) === this.only && (this.kinds?.includes(fact.kind) ?? true);
  }

  /** Whether any fact of some kinds may be asked for, of one part or of any. */
  may(kinds: readonly FactKind[], part?: number): boolean {
    if (!this.only) return this.kinds === undefined || this.kinds.some((kind) => kinds.includes(kind));
    return [...this.named].some(
      ({ kind, of, beside }) =>
        kinds.includes(kind) && (part === undefined || of === part || beside === part),
    );
  }

  /** Whether nothing is asked of a part. */
  isFree(part: number): boolean {
    return this.only && !this.signatures.has(part);
  }

  /** All that are asked for; undefined where it is all but some. */
  get facts(): readonly ConflictFact[] | undefined {
    return this.only ? [...this.named] : undefined;
  }

  /** Equal where the same is asked of a part. */
  signature(part: number): string {
    return `${this.only ? 'only' : `all ${this.kinds?.join() ?? ''} but`} ${this.signatures.get(part) ?? ''}`;
  }
}

/**
 * Collects facts that stand against every candidate: of each candidate that fails one, an earlier one again if possible. The
 * candidates fail by these alone, so that they suffice.
 */
export class Blame {
  readonly facts = new Set<ConflictFact>();

  constructor(readonly asked: Asked) {}

  /** Whether any of the facts that a candidate fails is asked for. */
  refuses(failing: readonly ConflictFact[]): boolean {
    const against = failing.filter((fact) => this.asked.has(fact));
    this.count(against);
    if (against.length > 0 && !against.some((fact) => this.facts.has(fact))) this.facts.add(against[0]!);
    return against.length > 0;
  }

  /** Takes over facts that are known to stand against a candidate. */
  add(facts: Iterable<ConflictFact>): void {
    for (const fact of facts) {
      this.count([fact]);
      this.facts.add(fact);
    }
  }

  private count(facts: readonly ConflictFact[]): void {
    const { tally } = this.asked;
    for (const fact of facts) tally?.set(fact, (tally.get(fact) ?? 0) + 1);
  }
}

import { minimalConflict } from '../algorithms/minimal-conflict.js';
import { Kept } from '../base/kept.js';
import { setKey } from '../base/part-set.js';
import type { Result } from '../base/result.js';
import type { Facts } from '../facts/facts.js';
import type { FactKind } from '../model/reason-fact.js';
import type { Refusal } from '../model/verdict.js';
import type { TackWish } from '../model/wish.js';
import { Blame, type Asked, type ConflictFact, type FactTable } from './conflict-facts.js';
import { ConflictSeams } from './conflict-seams.js';
import type { ConflictWishes } from './conflict-wishes.js';
import { demandOf } from './demand.js';
import type { Bringing } from './held-grip.js';
import type { AtAngle } from './index-angles.js';
import type { Newcomer } from './securing.js';
import type { Holding } from './stage-draft.js';
import { canBring } from './ways.js';

/** Refusals of a hold that say what is carried, by a reserve. */
const CARRIED: readonly string[] = [
  'first-part-falls',
  'does-not-stand',
  'set-by-hand-falls',
  'torch-topples',
  'hold-gives-way',
  'cannot-be-secured',
  'cannot-be-proved',
  'two-holds-unproved',
];
const OF_A_SEAM: readonly string[] = ['seam-not-coverable', 'gap-too-wide'];
/** Kinds that hang on the hold of a part, wishes aside. */
const OF_A_HOLD: readonly FactKind[] = ['hold', 'reserve'];

/** Kinds of facts about how a part is held, tacked and let go. */
export const SECURING: readonly FactKind[] = ['torch', 'hold', 'reserve', 'wish'];

/** How parts are tacked, held and let go, as facts. A refused hold is known by the first thing that stands against it. */
export class ConflictSecuring {
  private readonly seams: ConflictSeams;
  private readonly tackWishes = new Kept<readonly ConflictFact[]>();
  private readonly anyhow = new Kept<{
    readonly secured: boolean;
    readonly against: readonly ConflictFact[];
  }>();
  private readonly nearest = new Map<ConflictFact, Refusal>();
  /** Of parts that are wished not to be held. */
  private readonly nearestUnheld = new Map<ConflictFact, Refusal>();
  private readonly severalArms: boolean;

  constructor(
    private readonly facts: Facts,
    private readonly table: FactTable,
    private readonly wishes: ConflictWishes,
  ) {
    this.severalArms = facts.scene.cell.handlers.length > 1;
    this.seams = new ConflictSeams(facts, table);
  }

  /** Of all that was tried, the refusal that came nearest to meeting a fact. */
  nearestOf(fact: ConflictFact): Refusal | undefined {
    if (fact.kind === 'torch') return this.seams.nearestOf(fact);
    return this.nearestUnheld.get(fact) ?? this.nearest.get(fact);
  }

  /** Seams that no torch covers, whatever the grip. */
  againstSeams({ facts }: AtAngle, { part, inPlace }: Newcomer): readonly ConflictFact[] {
    return this.seams.uncovered(facts, part, inPlace);
  }

  /**
   * Of the wishes for tacks, or against them, that are asked for, some that together leave no tacks that the rules allow, with
   * nothing held that would be in the way, and none of which can be left out of them; none where there are no tacks anyhow.
   */
  againstTackWishes(at: AtAngle, newcomer: Newcomer, asked: Asked): readonly ConflictFact[] {
    const { part, inPlace } = newcomer;
    const wishes = this.wishes.aboutTacks(part, inPlace).filter(([, fact]) => asked.has(fact));
    if (wishes.length === 0) return [];
    const numbers = wishes.map(([, { wish }]) => wish).join();
    return this.tackWishes.get(`${at.facts.angle} ${part} ${setKey(inPlace)} ${numbers}`, () => {
      if (!this.leavesTacks(at, newcomer, [])) return [];
      const conflict = minimalConflict(wishes.toReversed(), (some) =>
        this.leavesTacks(
          at,
          newcomer,
          some.map(([wish]) => wish),
        )
          ? 'free'
          : some,
      );
      return (conflict?.items ?? []).map(([, fact]) => fact).toReversed();
    });
  }

  private leavesTacks(at: AtAngle, newcomer: Newcomer, wishes: readonly TackWish[]): boolean {
    const { tacks: asked } = demandOf(at.facts, wishes);
    if (!at.facts.scene.parts[newcomer.part]!.part.manual)
      return this.seams.layoutsAt(at.facts).lay({ ...newcomer, asked }, []).refusal === undefined;
    const set = at.byHand.set({ ...newcomer, asked });
    return set.ok || CARRIED.includes(set.error.code);
  }

  /**
   * Whether a part that comes by a grip, or by any that can be used, is held and tacked until it stands, the seams that no torch
   * covers aside.
   */
  secures(at: AtAngle, newcomer: Newcomer, by: Bringing | undefined, blame: Blame): boolean {
    const { asked } = blame;
    const { part } = newcomer;
    if (!asked.may(OF_A_HOLD, part) && !(asked.may(['wish'], part) && this.wishes.isAboutHold(part)))
      return true;
    if (by === undefined) return this.securesAnyhow(at, newcomer, blame);
    const letGo = this.failingLetGo(at, newcomer, by);
    if (letGo) {
      if (!blame.refuses(letGo)) return true;
      // Whatever else stands against a hold that is wished away: how it would hold takes longest to find out.
      if (blame.refuses(this.wishes.againstHold(part, true))) return false;
    }
    return this.failing(at, newcomer, by).some((failing) => !blame.refuses(failing));
  }

  /** What stands against a part that must be held being let go, where a wish is that it is not held. */
  private failingLetGo(
    { holdings }: AtAngle,
    newcomer: Newcomer,
    by: Bringing,
  ): readonly ConflictFact[] | undefined {
    if (this.wishes.againstHold(newcomer.part, true).length === 0) return undefined;
    const fall = holdings.unheldFall(newcomer, by);
    if (fall === undefined) return undefined;
    const fact = this.table.of('reserve', newcomer.part);
    this.nearestUnheld.set(fact, nearer(fall, this.nearestUnheld.get(fact)));
    return [...this.wishes.againstHold(newcomer.part, false), fact];
  }

  /** Whether a person can tack the part so that it stands. */
  canBeSet({ byHand }: AtAngle, newcomer: Newcomer, blame: Blame): boolean {
    const set = byHand.set(newcomer);
    return set.ok || !blame.refuses([this.factOf(newcomer, set.error)]);
  }

  /** By any grip that can be used and brought; where there is none, that a hold secures it counts as met. */
  private securesAnyhow(at: AtAngle, newcomer: Newcomer, blame: Blame): boolean {
    const { facts } = at;
    const { part, inPlace, clamped } = newcomer;
    const key = `${facts.angle} ${part} ${clamped} ${setKey(inPlace)} ${blame.asked.signature(part)}`;
    const { secured, against } = this.anyhow.get(key, () => {
      const own = new Blame(blame.asked);
      const grips = facts.usableGrips(part).filter((grip) => canBring(facts, part, grip));
      const any = grips.length === 0 || grips.some((grip) => this.secures(at, newcomer, { grip }, own));
      return { secured: any, against: [...own.facts] };
    });
    if (!secured) blame.add(against);
    return secured;
  }

  /** What stands against each of the holds that a grip leaves: the usual one, and where the part stands by itself, that it is held. */
  private failing(at: AtAngle, newcomer: Newcomer, by: Bringing): readonly (readonly ConflictFact[])[] {
    const { holdings } = at;
    const { part } = newcomer;
    const first = holdings.first(newcomer, by);
    const wished = this.wishes.againstHold(part, holds(first));
    if (first.ok && wished.length === 0) return [[]];
    if (this.canBeKept(newcomer) && holdings.keeping(newcomer, by).ok) return [[]];
    if (first.ok && !holds(first) && holdings.held(newcomer, by).ok)
      return [wished, this.wishes.againstHold(part, true)];
    if (first.ok) return [wished];
    return OF_A_SEAM.includes(first.error.code) ? [[]] : [[this.factOf(newcomer, first.error)]];
  }

  /** With several arms a part may also be held on, or come beside one that is, when the two are joined. */
  private canBeKept({ part, clamped }: Newcomer): boolean {
    return (
      this.severalArms &&
      clamped !== undefined &&
      this.facts.joints.some(({ a, b }) => (a === part && b !== clamped) || (b === part && a !== clamped))
    );
  }

  /** The fact behind a refusal, whose nearest miss is kept. */
  private factOf({ part, clamped }: Newcomer, refusal: Refusal): ConflictFact {
    const { code } = refusal;
    if (OF_A_SEAM.includes(code)) return this.seams.factOf(refusal.subjects[0]!, refusal);
    const fact = this.table.of(CARRIED.includes(code) ? 'reserve' : 'hold', part);
    // That it does not stand alone on the table says nothing of a part that comes to others, unless nothing else is known.
    const known = this.nearest.get(fact);
    if (clamped !== undefined || known === undefined) this.nearest.set(fact, nearer(refusal, known));
    return fact;
  }
}

const holds = (holding: Result<Holding, Refusal>): boolean => holding.ok && holding.value.held;

/** How near a refused candidate came, as a share of what was asked for. */
const share = ({ value, limit }: Refusal): number =>
  value === undefined || limit === undefined || limit === 0 ? -1 : value / limit;

/** The refusal that came nearer to its limit; the first of equals. */
const nearer = (found: Refusal, known: Refusal | undefined): Refusal =>
  known === undefined || share(found) > share(known) ? found : known;

import { Kept } from '../base/kept.js';
import { setKey } from '../base/part-set.js';
import type { Result } from '../base/result.js';
import type { Facts } from '../facts/facts.js';
import type { FactKind } from '../model/reason-fact.js';
import type { Refusal } from '../model/verdict.js';
import { Blame, type ConflictFact, type FactTable } from './conflict-facts.js';
import type { ConflictWishes } from './conflict-wishes.js';
import { demandOf } from './demand.js';
import type { Bringing } from './held-grip.js';
import type { AtAngle } from './index-angles.js';
import type { Newcomer } from './securing.js';
import type { Holding } from './stage-draft.js';
import { TackLayouts } from './tack-layout.js';
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

/** Kinds of facts about how a part is held, tacked and let go. */
export const SECURING: readonly FactKind[] = ['torch', 'hold', 'reserve', 'wish'];

/** How parts are tacked, held and let go, as facts. A refused hold is known by the first thing that stands against it. */
export class ConflictSecuring {
  private readonly layouts = new Map<number, TackLayouts>();
  private readonly seams = new Kept<readonly ConflictFact[]>();
  private readonly tackWishes = new Kept<readonly ConflictFact[]>();
  private readonly anyhow = new Kept<{
    readonly secured: boolean;
    readonly against: readonly ConflictFact[];
  }>();
  private readonly nearest = new Map<ConflictFact, Refusal>();
  private readonly severalArms: boolean;

  constructor(
    private readonly facts: Facts,
    private readonly table: FactTable,
    private readonly wishes: ConflictWishes,
  ) {
    this.severalArms = facts.scene.cell.handlers.length > 1;
  }

  /** Of all that was tried, the refusal that came nearest to meeting a fact. */
  nearestOf(fact: ConflictFact): Refusal | undefined {
    return this.nearest.get(fact);
  }

  /** Seams that no torch covers, and wishes for tacks that none lays, whatever the grip. */
  againstSeams(at: AtAngle, newcomer: Newcomer): readonly ConflictFact[] {
    const { part, inPlace } = newcomer;
    const { angle } = at.facts;
    return this.seams.get(`${angle} ${part} ${setKey(inPlace)}`, () => {
      const uncovered = this.layoutsAt(at).uncovered(part, inPlace);
      return [
        ...uncovered.map((refusal) => this.factOf(newcomer, refusal)),
        ...this.againstTackWishes(at, newcomer),
      ];
    });
  }

  /**
   * Wishes for tacks, or against them, each of which by itself leaves no tacks that the rules allow, with nothing held that would
   * be in the way; none where there are none anyhow.
   */
  againstTackWishes(at: AtAngle, { part, inPlace }: Newcomer): readonly ConflictFact[] {
    const wishes = this.wishes.aboutTacks(part, inPlace);
    if (wishes.length === 0) return [];
    return this.tackWishes.get(`${at.facts.angle} ${part} ${setKey(inPlace)}`, () => {
      const layouts = this.layoutsAt(at);
      if (layouts.lay({ part, inPlace }, []).refusal) return [];
      return wishes.flatMap(([wish, fact]) => {
        const { tacks: asked } = demandOf(at.facts, [wish]);
        return layouts.lay({ part, inPlace, asked }, []).refusal ? [fact] : [];
      });
    });
  }

  private layoutsAt({ facts }: AtAngle): TackLayouts {
    const layouts = this.layouts.get(facts.angle) ?? new TackLayouts(facts);
    this.layouts.set(facts.angle, layouts);
    return layouts;
  }

  /** Whether a part that comes by a grip, or by any that can be used, is held and tacked until it stands. */
  secures(at: AtAngle, newcomer: Newcomer, by: Bringing | undefined, blame: Blame): boolean {
    if (by === undefined) return this.securesAnyhow(at, newcomer, blame);
    return this.failing(at, newcomer, by).some((failing) => !blame.refuses(failing));
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
    if (!secured) for (const fact of against) blame.facts.add(fact);
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
    return OF_A_SEAM.includes(first.error.code)
      ? [this.againstSeams(at, newcomer)]
      : [[this.factOf(newcomer, first.error)]];
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
    const { table } = this;
    const fact = OF_A_SEAM.includes(code)
      ? table.of('torch', part, this.seamOf(part, refusal.subjects[0]!))
      : table.of(CARRIED.includes(code) ? 'reserve' : 'hold', part);
    // That it does not stand alone on the table says nothing of a part that comes to others, unless nothing else is known.
    const known = this.nearest.get(fact);
    if (clamped !== undefined || known === undefined) this.nearest.set(fact, nearer(refusal, known));
    return fact;
  }

  /** The seam, and the part at its other side. */
  private seamOf(part: number, seam: string): { readonly seam: string; readonly other: string } {
    const joint = this.facts.joints.find(({ seams }) => seams.some(({ id }) => id === seam))!;
    return { seam, other: this.table.nameOf(joint.a === part ? joint.b : joint.a) };
  }
}

const holds = (holding: Result<Holding, Refusal>): boolean => holding.ok && holding.value.held;

/** How near a refused candidate came, as a share of what was asked for. */
const share = ({ value, limit }: Refusal): number =>
  value === undefined || limit === undefined || limit === 0 ? -1 : value / limit;

/** Whether no grip and no order would change a refusal: a seam in a welding position that is not allowed. */
const whateverTheGrip = ({ nearest }: Refusal): boolean => nearest?.code === 'position-not-allowed';

/** The refusal that came nearer to its limit, before it one that no grip would change; the first of equals. */
function nearer(found: Refusal, known: Refusal | undefined): Refusal {
  if (known === undefined) return found;
  if (whateverTheGrip(found) !== whateverTheGrip(known)) return whateverTheGrip(found) ? found : known;
  return share(found) > share(known) ? found : known;
}

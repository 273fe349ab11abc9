import { has, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { seenGrip } from '../facts/seen-grip.js';
import type { AnyWeldment } from '../model/weldment.js';
import { wishesOf, type Wish } from '../model/wish.js';
import { isGrip, isNear, keepsWish, partsOfWish, weightOf, type WishStage } from '../rules/wish-kept.js';
import { demandOf, isStageWish, type Demand, type StageWish } from './demand.js';
import { hardOrder, OrderWishes, type MustPrecede } from './order-wishes.js';
import type { StageDraft } from './stage-draft.js';
import { isAboutJoint, siteMiddle } from './tack-ask.js';

/** Of more soft wishes about one stage than this only each by itself and all together are tried to be kept. */
const MOST_TOGETHER = 3;

/** How soft wishes about a stage are planned for where there are more of them. */
export const MANY_WISHES = `of more than ${MOST_TOGETHER} soft wishes about one stage each is tried to be kept by itself, and all of them together, but not every other set of them`;

/** Whether more soft wishes may be about one stage than are tried in every set. */
export const hasManyWishes = (facts: Facts): boolean =>
  facts.scene.parts.some(
    ({ part: { id } }) =>
      wishesIn(facts).filter((wish) => wish.soft && isStageWish(wish) && partsOfWish(wish).includes(id))
        .length > MOST_TOGETHER,
  );

/** The wishes of a planning run: hard and soft, weldment and settings. */
export const wishesIn = ({ scene, settings }: Facts): readonly Wish[] => wishesOf(scene.weldment, settings);

/** What must come before what by the weldment file and the wishes that are not soft. Parts by number. */
export function mustPrecede(facts: Facts): MustPrecede {
  const { weldment, parts } = facts.scene;
  const ids = parts.map(({ part }) => part.id);
  return hardOrder(ids, [...relationWishes(weldment), ...wishesIn(facts)]);
}

/** The order relations of a weldment file said as wishes. */
const relationWishes = ({ needs, blocking, first }: AnyWeldment): readonly Wish[] => {
  const hard = { never: false, soft: false, weight: 1 };
  return [
    ...needs.flatMap(({ part, after }) =>
      after.map((id) => ({ ...hard, before: [id, part] as [string, string] })),
    ),
    ...blocking.flatMap(({ part, by }) =>
      by.map((id) => ({ ...hard, before: [part, id] as [string, string] })),
    ),
    ...(first === undefined ? [] : [{ ...hard, first }]),
  ];
};

/** What wishes ask of a stage, and what it costs to break them. */
export class StageWishes {
  private readonly wishes: readonly StageWish[];
  private readonly order: OrderWishes;
  private readonly none: readonly Demand[];
  private hopeless: readonly StageWish[] | undefined;

  constructor(private readonly facts: Facts) {
    const all = wishesIn(facts);
    const ids = facts.scene.parts.map(({ part }) => part.id);
    this.wishes = all.filter(isStageWish);
    this.order = new OrderWishes(ids, all, mustPrecede(facts));
    this.none = [demandOf(facts, [])];
  }

  /**
   * What is asked of a part that joins those in place: that all hard wishes about its stage are kept, and then with
   * some soft ones too, the fewest first.
   */
  demands(part: number, inPlace: PartSet): readonly Demand[] {
    const own = this.about(part, inPlace);
    if (own.length === 0) return this.none;
    const hard = own.filter(({ soft }) => !soft);
    const soft = own.filter((wish) => wish.soft);
    return subsets(soft)
      .map((some) => demandOf(this.facts, [...hard, ...some]))
      .filter(({ contradicted }) => !contradicted);
  }

  /** Whether a stage meets a demand. */
  meets({ wishes }: Demand, draft: StageDraft): boolean {
    const stage = [this.seen(draft)];
    return wishes.every((wish) => keepsWish(wish, stage));
  }

  /** The weights of the soft wishes that are broken when a part joins those in place in a stage. */
  cost(draft: StageDraft, inPlace: PartSet, begun: boolean): number {
    const own = this.about(draft.part, inPlace);
    const ordered = this.order.cost(draft.part, inPlace, begun);
    if (own.length === 0) return ordered;
    const stage = [this.seen(draft)];
    return ordered + weightOf(own.filter((wish) => !keepsWish(wish, stage)));
  }

  /** What parts that are not in place break at least: by their order, and by wishes that no stage can keep. */
  least(inPlace: PartSet, begun: boolean): number {
    const { index } = this.facts.scene;
    this.hopeless ??= this.wishes.filter((wish) => wish.soft && isHopeless(this.facts, wish));
    const open = this.hopeless.filter((wish) =>
      partsOfWish(wish).some((part) => !has(inPlace, index.get(part)!)),
    );
    return this.order.least(inPlace, begun) + weightOf(open);
  }

  /** The weights of the soft wishes that whole orders break. */
  broken(stages: readonly StageDraft[]): number {
    const seen = stages.map((draft) => this.seen(draft));
    return weightOf(wishesIn(this.facts).filter((wish) => !keepsWish(wish, seen)));
  }

  private about(part: number, inPlace: PartSet): readonly StageWish[] {
    const { parts, index } = this.facts.scene;
    const { id } = parts[part]!.part;
    return this.wishes.filter((wish) => {
      const names = partsOfWish(wish);
      return names.includes(id) && names.every((name) => name === id || has(inPlace, index.get(name) ?? -1));
    });
  }

  private seen(draft: StageDraft): WishStage {
    const { parts } = this.facts.scene;
    const nameOf = (part: number): string => parts[part]!.part.id;
    return {
      part: nameOf(draft.part),
      grip: draft.manual ? undefined : seenGrip(draft.way.grip),
      regrips: draft.manual ? 0 : draft.way.regrips,
      held: !draft.manual && draft.held,
      tacks: draft.tacks.map(({ site, a, b }) => ({
        between: [nameOf(a), nameOf(b)],
        middle: siteMiddle(site),
      })),
    };
  }
}

/** Whether no stage at all can keep a wish, as far as that is seen from the grips of a part and the sites of a joint. */
function isHopeless(facts: Facts, wish: StageWish): boolean {
  const { parts, index } = facts.scene;
  if ('tack' in wish) {
    const sites = facts.joints
      .filter((joint) => isAboutJoint(facts, wish, joint))
      .flatMap((joint) => joint.seams.flatMap((seam) => facts.sites(joint, seam)));
    return !wish.never && !sites.some((site) => isNear(wish, siteMiddle(site)));
  }
  if (!('grip' in wish)) return false;
  const part = index.get(wish.grip)!;
  if (parts[part]!.part.manual) return !wish.never;
  return facts.usableGrips(part).every((grip) => isGrip(wish, seenGrip(grip)) === wish.never);
}

/** Every subset, smaller ones first; of many members only none, each by itself, and all. */
function subsets(wishes: readonly StageWish[]): readonly (readonly StageWish[])[] {
  if (wishes.length > MOST_TOGETHER) return [[], ...wishes.map((wish) => [wish]), wishes];
  const all = Array.from({ length: 1 << wishes.length }, (_, set) =>
    wishes.filter((_wish, i) => (set >> i) & 1),
  );
  return all.sort((a, b) => a.length - b.length);
}

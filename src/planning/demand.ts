import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import { seenGrip } from '../facts/seen-grip.js';
import type { GripWish, HeldWish, RegripsWish, TackWish, Wish } from '../model/wish.js';
import { isGrip, isNear } from '../rules/wish-kept.js';
import { isAboutJoint, siteMiddle, type TackAsk } from './tack-ask.js';

/** Wishes that the stage of one part keeps or breaks, whatever the order. */
export type StageWish = GripWish | RegripsWish | HeldWish | TackWish;

export const isStageWish = (wish: Wish): wish is StageWish => !('before' in wish) && !('first' in wish);

/** What is asked of the stage in which a part joins, beside what makes it legal. */
export interface Demand {
  /** The wishes that it stands for. */
  readonly wishes: readonly StageWish[];
  readonly allowsGrip: (grip: Grip) => boolean;
  readonly allowsRegrips: (regrips: number) => boolean;
  /** Whether the part shall be held while its securing tacks are laid; undefined for either. */
  readonly held: boolean | undefined;
  /** Undefined where nothing is asked of the tacks. */
  readonly tacks: TackAsk | undefined;
  /** Whether no stage can meet it. */
  readonly contradicted: boolean;
}

/** A demand that asks for what must be met, which is given, and for more. */
export type MoreAsked = (must: Demand) => Demand;

/** That a stage keeps all these wishes about it. */
export function demandOf(facts: Facts, wishes: readonly StageWish[]): Demand {
  const grips = wishes.filter((wish) => 'grip' in wish);
  const regrips = wishes.filter((wish) => 'regrips' in wish);
  const held = new Set(wishes.flatMap((wish) => ('held' in wish ? [!wish.never] : [])));
  return {
    wishes,
    allowsGrip: (grip) => grips.every((wish) => isGrip(wish, seenGrip(grip)) !== wish.never),
    allowsRegrips: (count) => regrips.every(({ most, never }) => count <= most !== never),
    held: held.size === 1 ? [...held][0] : undefined,
    tacks: tacksOf(
      facts,
      wishes.filter((wish) => 'tack' in wish),
    ),
    contradicted: held.size > 1,
  };
}

/** Whether whatever meets `other` meets a demand too, as far as the wishes of the two say. */
export const asksNoMore = ({ wishes }: Demand, other: Demand): boolean =>
  wishes.every((wish) => other.wishes.includes(wish));

function tacksOf(facts: Facts, wishes: readonly TackWish[]): TackAsk | undefined {
  if (wishes.length === 0) return undefined;
  const forbidden = wishes.filter(({ never }) => never);
  return {
    key: JSON.stringify(wishes),
    allows: (site) => {
      const about = forbidden.filter((wish) => isAboutJoint(facts, wish, site.joint));
      return about.length === 0 || !about.some((wish) => isNear(wish, siteMiddle(site)));
    },
    wished: wishes.filter(({ never }) => !never),
  };
}

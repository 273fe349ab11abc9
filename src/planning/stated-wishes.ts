import type { PlanHead } from '../model/plan.js';
import { wishesOf, type Wisher } from '../model/wish.js';
import { keepsWish, type WishStage } from '../rules/wish-kept.js';

/** The wishes of the inputs as a plan states them, and which its stages keep; nothing where nothing is wished. */
export function statedWishes(
  weldment: Wisher,
  settings: Wisher,
  stages: readonly WishStage[],
): Pick<PlanHead, 'wishes'> {
  const own = weldment.wishes?.length ?? 0;
  const wishes = wishesOf(weldment, settings).map((wish, i) => ({
    wish,
    from: i < own ? ('weldment' as const) : ('settings' as const),
    kept: keepsWish(wish, stages),
  }));
  return wishes.length === 0 ? {} : { wishes };
}

import type { Plan, PlanWish } from '../model/plan.js';
import type { GripWish, Wish } from '../model/wish.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';

/** What a grip is wished to be: `by magnet-small on +z at [10, 0] by handler`. */
export const gripText = ({
  gripper,
  face,
  position,
  turn,
  group,
  robot,
}: Partial<Omit<GripWish, 'grip'>>): string =>
  [
    ...(gripper === undefined ? [] : [`with ${plain(gripper)}`]),
    ...(face === undefined ? [] : [`on ${plain(face)}`]),
    ...(position === undefined ? [] : [`at [${position.map((x) => amount(x, 1)).join(', ')}]`]),
    ...(turn === undefined ? [] : [`turned ${amount(turn, 1)} degrees`]),
    ...(group === undefined ? [] : [group === null ? 'by all pads' : `by the pads ${plain(group)}`]),
    ...(robot === undefined ? [] : [`by ${plain(robot)}`]),
  ].join(' ');

/** A wish as what the plan shall or shall not do: `rib joins before lid`, `web is not held while it is tacked`. */
export function wishText(wish: Wish): string {
  const not = wish.never ? 'not ' : '';
  if ('before' in wish) {
    const [earlier, later] = wish.before.map(plain);
    return `${earlier} ${wish.never ? 'does not join' : 'joins'} before ${later}`;
  }
  if ('first' in wish) return `${plain(wish.first)} is ${not}the first part`;
  if ('grip' in wish) return `${plain(wish.grip)} is ${not}put in place ${gripText(wish)}`;
  if ('regrips' in wish)
    return wish.never
      ? `${plain(wish.regrips)} is regripped more than ${counted(wish.most, 'time')}`
      : `${plain(wish.regrips)} is ${wish.most === 0 ? 'not regripped' : `regripped at most ${counted(wish.most, 'time')}`}`;
  if ('held' in wish) return `${plain(wish.held)} is ${not}held while its securing tacks are laid`;
  const near = `within ${amount(wish.within, 1)} mm of [${wish.near.map((x) => amount(x, 1)).join(', ')}]`;
  return `${listed(wish.tack.map(plain))} have ${wish.never ? 'no' : 'a'} tack ${near}`;
}

/** What a plan says of one wish: whether it is kept, and what breaking it counts. */
const statedWishText = ({ wish, from, kept }: PlanWish): string => {
  const strength = wish.soft ? `, weight ${amount(wish.weight)}` : '';
  return `${kept ? 'kept' : 'broken'}${strength}: ${wishText(wish)} (${from})`;
};

/** One line a wish, in the order of the plan. */
export const wishLines = ({ wishes = [] }: Pick<Plan, 'wishes'>): readonly string[] =>
  wishes.map(statedWishText);

import { emptySet, withMember, type PartSet } from '../base/part-set.js';
import type { TackSite } from '../facts/tack-sites.js';
import { handsAtRest, type Hands } from './hands.js';
import type { KeptHold } from './kept-hold.js';
import type { ManualDraft } from './stage-draft.js';

/** What the rest of a tack-up depends on. */
export interface OrderState {
  readonly inPlace: PartSet;
  readonly count: number;
  /** The part that stands on the table and is clamped; undefined before the first. */
  readonly first: number | undefined;
  readonly hands: Hands;
  /** A part that is still held while the next one comes. */
  readonly kept: KeptHold | undefined;
  /** Where tacks have been laid so far. */
  readonly laid: readonly TackSite[];
  /** Parts that were located at the regrip table, and those that were seated. */
  readonly located: PartSet;
  readonly seated: PartSet;
  /** Index angle of the work table; undefined before the first part. */
  readonly angle: number | undefined;
  /** Completing tacks that go on while the handling robot fetches the next part, milliseconds. */
  readonly pending: number;
}

/** Before the first of so many parts. */
export function startState(parts: number, hands: Hands): OrderState {
  const nothing = emptySet(parts);
  return {
    ...{ inPlace: nothing, count: 0, first: undefined, hands, kept: undefined, laid: [] },
    ...{ located: nothing, seated: nothing, angle: undefined, pending: 0 },
  };
}

/**
 * After a stage in which a person sets a part, and the milliseconds that it takes: it begins when the completing tacks
 * of the stage before are laid, and no robot fetches or welds meanwhile.
 */
export function afterHand(
  state: OrderState,
  { part, angle, manual, tacks }: ManualDraft,
): { readonly to: OrderState; readonly milliseconds: number } {
  const to = {
    ...state,
    inPlace: withMember(state.inPlace, part),
    count: state.count + 1,
    first: state.first ?? part,
    hands: handsAtRest(state.hands),
    laid: [...state.laid, ...tacks.map(({ site }) => site)],
    angle,
    pending: 0,
  };
  return { to, milliseconds: state.pending + Math.round(1000 * manual.seconds) };
}

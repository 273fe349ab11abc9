import type { Wish } from './wish.js';

/**
 * What a fact is that helps to rule every plan out:
 * - needs, blocking, first: a relation of the weldment file, with the `other` part; wish: one of `wishesOf`, by its place and as it is `wished`;
 * - contact: the part must be joined to a part in place or have a footing to stand on; the first stands on the table;
 * - approach: the `other` part, the table or a keep-out is in its way into place, or `other` and `also` leave
 *   too little room between them;
 * - grips: it may be taken only by the grips that the weldment file gives it;
 * - rest: it must lie at the infeed without tipping or rolling;
 * - capacity: what the `gripper` can take and carry; reach: where the `robot` gets with it, from home and back; arm-room: the links
 *   of the `robot` among the parts in place; gripper-room: the `other` part, the table or a keep-out beside the gripper;
 * - accuracy: how well it meets the `other` part, in the direction that `about` says by its refusal code;
 * - torch: the tacks of a `seam` to the `other` part;
 * - reserve: what it must carry while and after it is tacked; hold: how it can be held meanwhile;
 * - turning: room for the work table that turns before it comes.
 */
export const FACT_KINDS = [
  'needs',
  'blocking',
  'first',
  'wish',
  'contact',
  'approach',
  'grips',
  'rest',
  'capacity',
  'reach',
  'arm-room',
  'gripper-room',
  'accuracy',
  'torch',
  'hold',
  'reserve',
  'turning',
] as const;

export type FactKind = (typeof FACT_KINDS)[number];

/** A fact by the names that it is about. */
export interface ReasonFact {
  readonly kind: FactKind;
  readonly part: string;
  readonly other?: string;
  readonly also?: string;
  readonly robot?: string;
  readonly gripper?: string;
  readonly seam?: string;
  readonly about?: string;
  /** Place in `wishesOf`. */
  readonly wish?: number;
  readonly wished?: Wish;
}

/** Most sets of facts that are told, the first included; our choice. */
export const MOST_SETS = 3;

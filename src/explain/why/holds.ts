import type { FactKind, ReasonFact } from '../../model/reason-fact.js';
import type { Wish } from '../../model/wish.js';
import { partsOfWish } from '../../rules/wish-kept.js';

/** Where a fact of a forced answer holds; it says nothing of plans that have it as the plan has. */
export type Holds =
  /** When that part is in place. */
  | { readonly when: 'with'; readonly part: string }
  /** When that part is not in place yet. */
  | { readonly when: 'without'; readonly part: string }
  /** When the part that the fact is about is the first. */
  | { readonly when: 'first' }
  /** In the plans that have it otherwise: by another grip, not held, and so on. */
  | { readonly when: 'otherwise' };

/** What the files say, whatever a plan does. */
const OF_FILES: readonly FactKind[] = ['needs', 'blocking', 'first', 'wish', 'contact'];

/** What hangs neither on how the part is gripped, held or tacked nor on parts in place that it does not name. */
const OF_SHAPES: readonly FactKind[] = ['rest', 'approach'];

/**
 * Where a fact holds that rules out, with others, every plan that keeps a wish; undefined: everywhere. Which parts are in
 * place when a part comes is told by the wish alone.
 */
export function holdsUnder(wish: Wish, { kind, part }: ReasonFact): Holds | undefined {
  if (OF_FILES.includes(kind) || OF_SHAPES.includes(kind)) return undefined;
  if (!('before' in wish) && !('first' in wish))
    return partsOfWish(wish).includes(part) ? { when: 'otherwise' } : undefined;
  if ('first' in wish) return part === wish.first ? { when: 'first' } : { when: 'with', part: wish.first };
  const [earlier, later] = wish.before;
  if (part === later) return { when: 'with', part: earlier };
  return part === earlier ? { when: 'without', part: later } : { when: 'otherwise' };
}

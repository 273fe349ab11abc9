import type { Refusal } from '../../model/verdict.js';
import type { OrderRelations } from '../../model/weldment.js';
import type { Wish } from '../../model/wish.js';
import { wishReason } from '../../rules/wish-reason.js';

/** That a part joins before another, and what of the files says so. */
interface Precedence {
  readonly from: string;
  readonly to: string;
  readonly reason: Refusal;
}

/** A relation of the files as a reason. */
const relation = (kind: 'first' | 'needs' | 'blocking', part: string, ...others: string[]): Refusal => ({
  ...{ code: kind, subjects: [part, ...others] },
  fact: { kind, part },
});

/** Every precedence that the files state, in their order. */
function precedences(
  { needs, blocking, first }: OrderRelations,
  wishes: readonly Wish[],
  parts: readonly string[],
): readonly Precedence[] {
  const leads = (part: string, reason: Refusal): Precedence[] =>
    parts.filter((other) => other !== part).map((other) => ({ from: part, to: other, reason }));
  return [
    ...(first === undefined ? [] : leads(first, relation('first', first))),
    ...needs.flatMap(({ part, after }) =>
      after.map((from) => ({ from, to: part, reason: relation('needs', part, from) })),
    ),
    ...blocking.flatMap(({ part, by }) =>
      by.map((to) => ({ from: part, to, reason: relation('blocking', part, to) })),
    ),
    ...wishes.flatMap((wish, index): Precedence[] => {
      if (wish.soft) return [];
      if ('first' in wish && !wish.never) return leads(wish.first, wishReason(wish, index));
      if (!('before' in wish)) return [];
      const [from, to] = wish.never ? [wish.before[1], wish.before[0]] : wish.before;
      return [{ from, to, reason: wishReason(wish, index) }];
    }),
  ];
}

/**
 * The fewest relations of the files by which `first` joins before `second`, from the one to the other; undefined where
 * they do not say so.
 */
export function orderByFile(
  relations: OrderRelations,
  wishes: readonly Wish[],
  parts: readonly string[],
  [first, second]: readonly [string, string],
): readonly Refusal[] | undefined {
  const all = precedences(relations, wishes, parts);
  const reached = new Map<string, readonly Refusal[]>([[first, []]]);
  for (const [part, chain] of reached) {
    if (part === second) return chain;
    for (const { from, to, reason } of all)
      if (from === part && !reached.has(to)) reached.set(to, [...chain, reason]);
  }
  return undefined;
}

/** What of the files says that a part is not the first; undefined where they do not. */
export function notFirstByFile(
  relations: OrderRelations,
  wishes: readonly Wish[],
  parts: readonly string[],
  part: string,
): readonly Refusal[] | undefined {
  const before = precedences(relations, wishes, parts).find(({ to }) => to === part);
  if (before) return [before.reason];
  const never = wishes.findIndex(
    (wish) => !wish.soft && wish.never && 'first' in wish && wish.first === part,
  );
  return never < 0 ? undefined : [wishReason(wishes[never]!, never)];
}

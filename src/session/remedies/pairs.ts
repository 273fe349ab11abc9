import { canonicalText } from '../../io/canonical.js';
import { COST_CLASSES, type Change, type CostClass, type Edit } from '../../model/tried-remedy.js';

/** One change that was tried by itself, or would have been. */
export interface Single {
  readonly cost: CostClass;
  readonly change: Change;
}

/** What a pair goes by. */
export interface PairGround {
  readonly singles: Iterable<Single>;
  /** Numbers of the sets of facts that stand after a change. */
  readonly standing: (change: Change) => readonly number[];
  /** How many sets there are. */
  readonly sets: number;
  /** How many changes are asked about at most. */
  readonly asked: number;
  /** Whether no more is to be asked about. */
  readonly isCut: () => boolean;
}

/** The kind of two changes at once. */
export const PAIR = 'two-changes';

const costOf = ({ cost }: Single): number => COST_CLASSES.indexOf(cost);

/** Whether one edit writes into what the other writes: lists are written whole, so that two of one list do not go together. */
const clash = (p: Edit, q: Edit): boolean => {
  const [short, long] = p.path.length <= q.path.length ? [p.path, q.path] : [q.path, p.path];
  return p.file === q.file && short.every((key, i) => key === long[i]);
};

const goTogether = (p: Change, q: Change): boolean =>
  !p.edits.some((one) => q.edits.some((other) => clash(one, other)));

/** Both changes as one. */
function both(p: Single, q: Single): Single {
  const cautions = [p, q].flatMap(({ change }) => change.caution ?? []);
  return {
    cost: COST_CLASSES[Math.max(costOf(p), costOf(q))]!,
    change: {
      words: `${p.change.words}, and ${q.change.words}`,
      edits: [...p.change.edits, ...q.change.edits],
      size: p.change.size + q.change.size,
      ...(cautions.length > 0 && { caution: [...new Set(cautions)].join('; ') }),
    },
  };
}

/**
 * Two changes at once, cheapest first: by the classes of both together, then by their sizes. Each of the two must remove a
 * fact of some set that rules every plan out, and no set may stand against both.
 */
export function pairsOf({ singles, standing, sets, asked, isCut }: PairGround): readonly Single[] {
  const useful = distinct(singles, asked, isCut).flatMap((single) => {
    if (isCut()) return [];
    const left = standing(single.change);
    return left.length < sets ? [{ single, left }] : [];
  });
  const pairs = useful.flatMap(({ single: p, left }, i) =>
    useful
      .slice(i + 1)
      .filter(
        ({ single: q, left: other }) =>
          left.every((set) => !other.includes(set)) && goTogether(p.change, q.change),
      )
      .map(({ single: q }) => ({ dear: costOf(p) + costOf(q), pair: both(p, q) })),
  );
  return pairs
    .toSorted((p, q) => p.dear - q.dear || p.pair.change.size - q.pair.change.size)
    .map(({ pair }) => pair);
}

/** So many changes at most, each once. */
function distinct(singles: Iterable<Single>, most: number, isCut: () => boolean): readonly Single[] {
  const known = new Map<string, Single>();
  for (const single of singles) {
    if (known.size >= most || isCut()) break;
    const key = canonicalText(single.change.edits);
    if (!known.has(key)) known.set(key, single);
  }
  return [...known.values()];
}

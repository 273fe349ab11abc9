/** What connected sets are looked for in. */
export interface ConnectedSearch {
  /** Of each vertex its neighbours; mutual. */
  readonly neighbours: readonly (readonly number[])[];
  /** Members at most. */
  readonly most: number;
  /** Sets listed at most, of one vertex too. */
  readonly limit: number;
  /** Whether a set counts; with a set that does not, none that contains it does. */
  readonly allowed: (members: readonly number[]) => boolean;
}

/** A set, and the vertices by which it may still grow so that no set is made twice. */
interface Grown {
  readonly members: readonly number[];
  readonly next: readonly number[];
}

/**
 * The connected sets of two or more vertices, small ones first, each once with its members in ascending order; `cut` where
 * the limit ended it. A set grows from its least member, and only by neighbours that its members so far did not have
 * before, so that one way alone leads to each.
 */
export function connectedSets({ neighbours, most, limit, allowed }: ConnectedSearch): {
  readonly sets: readonly (readonly number[])[];
  readonly cut: boolean;
} {
  let layer: Grown[] = neighbours.flatMap((near, v) =>
    allowed([v]) ? [{ members: [v], next: near.filter((w) => w > v) }] : [],
  );
  const sets: (readonly number[])[] = [];
  let listed = layer.length;
  for (let size = 2; size <= most; size += 1) {
    const larger: Grown[] = [];
    for (const grown of layer)
      for (const one of extensions(grown, neighbours)) {
        if (!allowed(one.members)) continue;
        if (listed >= limit) return { sets: [...sets, ...sorted(larger)], cut: true };
        listed += 1;
        larger.push(one);
      }
    sets.push(...sorted(larger));
    layer = larger;
  }
  return { sets, cut: false };
}

/** The set with one more member, for each that it may take. */
function extensions({ members, next }: Grown, neighbours: readonly (readonly number[])[]): readonly Grown[] {
  const [least] = members;
  const near = new Set(members.flatMap((v) => neighbours[v]!));
  return next.map((added, i) => {
    const fresh = neighbours[added]!.filter((w) => w > least! && !members.includes(w) && !near.has(w));
    return { members: [...members, added], next: [...next.slice(i + 1), ...fresh] };
  });
}

const sorted = (grown: readonly Grown[]): readonly (readonly number[])[] =>
  grown.map(({ members }) => [...members].sort((a, b) => a - b));

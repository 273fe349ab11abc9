import type { SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import { seededRandom, type Random } from '../../src/base/random.js';
import type { AbstractWeldment, Way } from '../../src/model/weldment.js';

const GRIPPERS = ['jaw', 'magnet', 'vacuum', 'wide'] as const;

const below = (random: Random, n: number): number => Math.floor(random() * n);

/**
 * A weldment without shapes of our own invention: each part touches an earlier one of a hidden order and some others, each
 * contact is a joint; a part in eight needs no particular gripper, the others have one to three ways; `relations` is the
 * share of the pairs that are in a blocking or needs relation, all of which agree with the hidden order.
 */
export function seededWeldment(seed: number, size: number, relations = 0.12): AbstractWeldment {
  const random = seededRandom(1000 * size + seed);
  const ids = Array.from({ length: size }, (_, i) => `part-${String(i + 1).padStart(2, '0')}`);
  const hidden = shuffled(ids, random);
  const contacts = hidden.flatMap((id, i) =>
    hidden
      .slice(0, i)
      .filter((_, j) => j === touched(i) || random() < 0.1)
      .map((other) => [other, id] as const),
  );
  function touched(i: number): number {
    return Math.max(0, i - 1 - (i % 4));
  }
  const related = hidden.flatMap((a, i) =>
    hidden
      .slice(i + 1)
      .filter(() => random() < relations)
      .map((b) => ({ earlier: a, later: b, blocks: random() < 0.5 })),
  );
  return {
    kind: 'abstract',
    name: `seeded-${size}-${seed}`,
    parts: ids.map((id) => ({ id, mass: undefined, ways: waysOf(random) })),
    contacts,
    joints: contacts.map((between) => ({ between, tacks: 1 + below(random, 4) })),
    blocking: related
      .filter(({ blocks }) => blocks)
      .map(({ earlier, later }) => ({ part: earlier, by: [later] })),
    needs: related
      .filter(({ blocks }) => !blocks)
      .map(({ earlier, later }) => ({ part: later, after: [earlier] })),
    first: undefined,
    times: { tack: 4, toolChange: 12 },
  };
}

function waysOf(random: Random): readonly Way[] {
  if (random() < 0.125) return [{ gripper: '', regrips: 0, seconds: 5 + below(random, 100) / 10 }];
  return shuffled(GRIPPERS, random)
    .slice(0, 1 + below(random, 3))
    .map((gripper) => ({
      gripper,
      regrips: random() < 0.2 ? 1 : 0,
      seconds: 10 + below(random, 150) / 10,
    }));
}

/** A sequential ordering instance of our own: costs from 0 to 99, a share of the pairs precedences along a hidden order. */
export function seededOrdering(seed: number, size: number, relations = 0.15): SequentialOrdering {
  const random = seededRandom(5000 * size + seed);
  const rank = Array.from({ length: size }, () => random());
  return {
    cost: rank.map((own, i) =>
      rank.map((other, j) => {
        if (i === j) return 0;
        if (i === size - 1 && j === 0) return -1;
        const inner = i > 0 && j > 0 && i < size - 1 && j < size - 1;
        return inner && other < own && random() < relations ? -1 : below(random, 100);
      }),
    ),
  };
}

function shuffled<T>(items: readonly T[], random: Random): readonly T[] {
  return items
    .map((item) => ({ item, rank: random() }))
    .sort((a, b) => a.rank - b.rank)
    .map(({ item }) => item);
}

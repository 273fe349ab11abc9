import fc from 'fast-check';
import type { SearchReport } from '../../src/algorithms/problem.js';
import { Budget } from '../../src/base/budget.js';
import { seededRandom } from '../../src/base/random.js';
import { DEFAULT_SETTINGS, type ObjectiveTerm, type Settings } from '../../src/model/settings.js';
import type { AbstractWeldment, Way } from '../../src/model/weldment.js';
import { planAbstract } from '../../src/planning/abstract-plan.js';
import type { AbstractStep } from '../../src/planning/abstract-problem.js';

export const plenty = (): Budget => new Budget({ steps: 1_000_000 });

export const withObjective = (objective: readonly ObjectiveTerm[]): Settings => ({
  ...DEFAULT_SETTINGS,
  objective: [...objective],
});

export const solve = (
  weldment: AbstractWeldment,
  settings = DEFAULT_SETTINGS,
): SearchReport<AbstractStep, undefined> => planAbstract(weldment, settings, { budget: plenty() });

/** A weldment of these parts and nothing else, each with the ways given. */
export const partsOnly = (
  parts: Readonly<Record<string, readonly Way[]>>,
  more: Partial<AbstractWeldment> = {},
): AbstractWeldment => ({
  kind: 'abstract',
  name: 'sample',
  parts: Object.entries(parts).map(([id, ways]) => ({ id, mass: undefined, ways })),
  contacts: undefined,
  joints: [],
  blocking: [],
  needs: [],
  first: undefined,
  times: { tack: 4, toolChange: 12 },
  ...more,
});

/** How the reader gives a part for which the file names no way. */
export const NO_WAY_NAMED: readonly Way[] = [{ gripper: '', regrips: 0, seconds: 0 }];

/** Bare parts p0, p1 and so on, without any way of their own. */
export const bareParts = (count: number, more: Partial<AbstractWeldment> = {}): AbstractWeldment =>
  partsOnly(Object.fromEntries(Array.from({ length: count }, (_, i) => [`p${i}`, NO_WAY_NAMED])), more);

export interface Shape {
  readonly parts: number;
  readonly grippers: number;
  readonly ways: number;
  /** Shares of all pairs of parts; `relations` that point backwards make contradictions. */
  readonly relations: number;
  readonly backwards: number;
  readonly contacts: number | undefined;
}

/** A random weldment; about one in four parts has a way that needs no gripper. Times are tenths of a second. */
export function randomAbstract(seed: number, shape: Shape): AbstractWeldment {
  const random = seededRandom(seed);
  const below = (n: number): number => Math.floor(random() * n);
  const ids = Array.from({ length: shape.parts }, (_, i) => `p${i}`);
  const pairs = ids.flatMap((a, i) => ids.slice(i + 1).map((b) => [a, b] as const));
  const way = (): Way => ({
    gripper: `g${below(shape.grippers)}`,
    regrips: below(3),
    seconds: below(60) / 10,
  });
  const parts = Object.fromEntries(
    ids.map((id) => [
      id,
      random() < 0.25 ? NO_WAY_NAMED : Array.from({ length: 1 + below(shape.ways) }, way),
    ]),
  );
  const related = pairs
    .filter(() => random() < shape.relations)
    .map(([a, b]) => (random() < shape.backwards ? ([b, a] as const) : ([a, b] as const)));
  const blocks = related.map(() => random() < 0.5);
  return partsOnly(parts, {
    contacts:
      shape.contacts === undefined
        ? undefined
        : pairs.filter(
            ([a, b]) => Number(b.slice(1)) - Number(a.slice(1)) === 1 || random() < shape.contacts!,
          ),
    joints: pairs.filter(() => random() < 0.5).map((between) => ({ between, tacks: 1 + below(4) })),
    blocking: related.filter((_, i) => blocks[i]).map(([a, b]) => ({ part: a, by: [b] })),
    needs: related.filter((_, i) => !blocks[i]).map(([a, b]) => ({ part: b, after: [a] })),
    first: random() < 0.15 ? ids[below(ids.length)] : undefined,
    times: { tack: below(50) / 10, toolChange: below(200) / 10 },
  });
}

/** Small weldments of every kind; some of them have no legal order. */
export const smallAbstract: fc.Arbitrary<AbstractWeldment> = fc
  .record({
    seed: fc.integer(),
    parts: fc.integer({ min: 1, max: 5 }),
    grippers: fc.integer({ min: 1, max: 4 }),
    ways: fc.integer({ min: 1, max: 3 }),
    relations: fc.constantFrom(0, 0.2, 0.5),
    backwards: fc.constantFrom(0, 0.4),
    contacts: fc.constantFrom(undefined, 0, 0.3),
  })
  .map(({ seed, ...shape }) => randomAbstract(seed, shape));

export const anyObjective: fc.Arbitrary<readonly ObjectiveTerm[]> = fc.shuffledSubarray(
  ['regrips', 'tool-changes', 'time'] as const,
  { minLength: 3, maxLength: 3 },
);

/** The same weldment with parts and ways shuffled and every part called otherwise. */
export function renamed(weldment: AbstractWeldment, key: () => number): AbstractWeldment {
  const shuffle = <T>(items: readonly T[]): T[] =>
    items
      .map((item) => ({ item, rank: key() }))
      .sort((a, b) => a.rank - b.rank)
      .map(({ item }) => item);
  const names = new Map(shuffle(weldment.parts).map(({ id }, i) => [id, `q${i}`]));
  const name = (id: string): string => names.get(id)!;
  const pair = ([a, b]: readonly [string, string]) => [name(b), name(a)] as const;
  return {
    ...weldment,
    parts: shuffle(weldment.parts).map(({ id, mass, ways }) => ({ id: name(id), mass, ways: shuffle(ways) })),
    contacts: weldment.contacts && shuffle(weldment.contacts).map(pair),
    joints: shuffle(weldment.joints).map(({ between, tacks }) => ({ between: pair(between), tacks })),
    blocking: shuffle(weldment.blocking).map(({ part, by }) => ({ part: name(part), by: by.map(name) })),
    needs: shuffle(weldment.needs).map(({ part, after }) => ({ part: name(part), after: after.map(name) })),
    first: weldment.first === undefined ? undefined : name(weldment.first),
  };
}

/**
 * The weldment with some parts more than once: each copy has the ways, contacts, joints and relations of its original, and
 * where `touching`, copies touch each other.
 */
export function withCopies(
  weldment: AbstractWeldment,
  copied: readonly number[],
  touching: boolean,
): AbstractWeldment {
  return copied.reduce((made, at, i) => {
    const original = made.parts[at % made.parts.length]!;
    const { id } = original;
    if (id === made.first) return made;
    const copy = `${id}-${i}`;
    const pairs = (list: readonly (readonly [string, string])[]): (readonly [string, string])[] =>
      list.flatMap(([a, b]) => {
        if (a === id) return [[a, b] as const, [copy, b] as const];
        return b === id ? [[a, b] as const, [a, copy] as const] : [[a, b] as const];
      });
    const both = (list: readonly string[]): string[] =>
      list.flatMap((name) => (name === id ? [name, copy] : [name]));
    return {
      ...made,
      parts: [...made.parts, { ...original, id: copy }],
      contacts: made.contacts && [...pairs(made.contacts), ...(touching ? [[id, copy] as const] : [])],
      joints: made.joints.flatMap((joint) =>
        pairs([joint.between]).map((between) => ({ ...joint, between })),
      ),
      blocking: made.blocking.flatMap(({ part, by }) =>
        (part === id ? [id, copy] : [part]).map((name) => ({ part: name, by: both(by) })),
      ),
      needs: made.needs.flatMap(({ part, after }) =>
        (part === id ? [id, copy] : [part]).map((name) => ({ part: name, after: both(after) })),
      ),
    };
  }, weldment);
}

/** Small weldments in which some parts are there more than once. */
export const smallWithCopies: fc.Arbitrary<AbstractWeldment> = fc
  .record({
    seed: fc.integer(),
    parts: fc.integer({ min: 1, max: 4 }),
    grippers: fc.integer({ min: 1, max: 3 }),
    ways: fc.integer({ min: 1, max: 3 }),
    relations: fc.constantFrom(0, 0.2, 0.5),
    backwards: fc.constantFrom(0, 0.1),
    contacts: fc.constantFrom(undefined, 0, 0.3),
    copied: fc.array(fc.nat({ max: 3 }), { minLength: 1, maxLength: 2 }),
    touching: fc.boolean(),
  })
  .map(({ seed, copied, touching, ...shape }) => withCopies(randomAbstract(seed, shape), copied, touching));

import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../src/model/plan.js';
import type { Change, CostClass } from '../../../src/model/tried-remedy.js';
import type { Ladder } from '../../../src/session/remedies/ladder.js';
import { searchRemedies, type Pairing, type SearchOptions } from '../../../src/session/remedies/search.js';

const change = (words: string, size: number): Change => ({ words, edits: [], size });

/** A ladder of a kind with rungs `kind 1`, `kind 2` and so on. */
const ladder = (cost: CostClass, kind: string, rungs: number, monotone = false): Ladder => ({
  ...{ kind, cost, monotone },
  changes: Array.from({ length: rungs }, (_, i) => change(`${kind} ${i + 1}`, (i + 1) / rungs)),
});

const planOf = (regrips: number): Plan =>
  ({
    objective: [{ term: 'regrips', value: regrips, bound: 0 }],
    proof: { outcome: 'optimal' },
  }) as unknown as Plan;

/**
 * Searches where the changes with these words give plans with so many regrips, or where it is open whether they do; what was
 * tried, in order, too.
 */
function search(
  ladders: readonly Ladder[],
  works: Readonly<Record<string, number | 'open'>>,
  options: Partial<SearchOptions> = {},
  pairing?: Pairing,
) {
  const asked: string[] = [];
  const found = searchRemedies(
    (cost) => ladders.filter((one) => one.cost === cost),
    ({ words }) => {
      asked.push(words);
      const said = works[words];
      return typeof said === 'number' ? { plan: planOf(said) } : { open: said === 'open' };
    },
    { offered: 4, tries: 30, steps: 50, ...options },
    pairing,
  );
  return { ...found, asked, words: found.remedies.map((remedy) => remedy.words) };
}

describe('the search for remedies', () => {
  it('tries the cheapest class first and ends with the class in which enough is found', () => {
    const ladders = [
      ladder('relaxed-rule', 'gap', 1),
      ladder('tooling', 'pad', 1),
      ladder('plan', 'rest', 1),
      ladder('order', 'needs', 1),
    ];
    const { asked, words } = search(
      ladders,
      { 'pad 1': 0, 'rest 1': 2, 'needs 1': 0, 'gap 1': 0 },
      { offered: 2 },
    );
    expect(asked).toEqual(['rest 1', 'needs 1']);
    expect(words).toEqual(['rest 1', 'needs 1']);
  });

  it('ranks by class, then size, then the objective, then as found', () => {
    const ladders = [
      ladder('tooling', 'a', 2),
      ladder('tooling', 'b', 4),
      ladder('tooling', 'c', 4),
      ladder('order', 'd', 1),
      ladder('tooling', 'e', 4),
    ];
    const { words } = search(ladders, { 'a 2': 0, 'b 2': 1, 'c 2': 0, 'd 1': 9, 'e 2': 1 });
    expect(words).toEqual(['d 1', 'c 2', 'b 2', 'e 2']);
  });

  it('bisects a monotone ladder and climbs another from the smallest on', () => {
    const works = { 'up 4': 0, 'up 5': 0, 'up 6': 0, 'up 7': 0, 'up 8': 0, 'other 2': 0 };
    const { asked, words } = search([ladder('plan', 'up', 8, true), ladder('plan', 'other', 8)], works);
    expect(asked).toEqual(['up 8', 'up 4', 'up 2', 'up 3', 'other 1', 'other 2']);
    expect(words).toEqual(['other 2', 'up 4']);
  });

  it('climbs a ladder that is for otherwise only where none of its kind has helped', () => {
    const near = { ...ladder('position', 'table', 1), changes: [change('near', 0.5)] };
    const far = { ...ladder('position', 'table', 1), changes: [change('far', 1)], otherwise: true };
    expect(search([near, far], { near: 0, far: 0 }).asked).toEqual(['near']);
    expect(search([near, far], { far: 0 }).words).toEqual(['far']);
  });

  it('tells what a remedy is, with the plan that was found with it', () => {
    const { remedies } = search([ladder('plan', 'rest', 1)], { 'rest 1': 1 });
    expect(remedies).toEqual([
      {
        ...{ kind: 'rest', cost: 'plan', words: 'rest 1', edits: [], size: 1 },
        objective: [{ term: 'regrips', value: 1 }],
      },
    ]);
  });

  it('gives a class a third of the tries, and says that not all was tried', () => {
    const { asked, words, cutBy, tries } = search(
      [ladder('plan', 'long', 20), ladder('tooling', 'pad', 1)],
      { 'pad 1': 0 },
      { tries: 9 },
    );
    expect(asked).toEqual(['long 1', 'long 2', 'long 3', 'pad 1']);
    expect({ words, cutBy, tries }).toEqual({ words: ['pad 1'], cutBy: 'tries', tries: 4 });
  });

  it('goes on for a third of the tries after something helped', () => {
    const { asked } = search(
      [
        ladder('plan', 'rest', 1),
        ladder('order', 'b', 1),
        ladder('position', 'c', 3),
        ladder('tooling', 'd', 3),
      ],
      { 'rest 1': 0 },
      { tries: 9 },
    );
    expect(asked).toEqual(['rest 1', 'b 1', 'c 1', 'c 2']);
  });

  it('stops when asked to, keeps what was found, and makes no further ladder', () => {
    let left = 2;
    const made: string[] = [];
    function* ladders(cost: CostClass): Generator<Ladder> {
      if (cost !== 'plan') made.push(cost);
      else yield* [ladder('plan', 'rest', 1), ladder('plan', 'long', 9)];
    }
    const found = searchRemedies(
      ladders,
      ({ words }) => (words === 'rest 1' ? { plan: planOf(0) } : { open: false }),
      {
        ...{ offered: 4, tries: 30, steps: 50 },
        cut: () => ((left -= 1) < 0 ? 'stop' : undefined),
      },
    );
    expect(found.cutBy).toBe('stop');
    expect(found.remedies.map(({ words }) => words)).toEqual(['rest 1']);
    expect(made).toEqual([]);
  });

  it('keeps apart what was not decided, and says of how many smaller changes that is so', () => {
    const up = ladder('plan', 'up', 8, true);
    const found = search([up], { 'up 4': 'open', 'up 6': 'open', 'up 7': 0, 'up 8': 0 });
    expect(found.asked).toEqual(['up 8', 'up 4', 'up 6', 'up 7']);
    expect(found).toMatchObject({ words: ['up 7'], open: 2, steps: 50 });
    expect(found.remedies[0]).toMatchObject({ openBelow: 2 });
    expect(search([up], { 'up 8': 'open' })).toMatchObject({ remedies: [], open: 1 });
    const sure = search([up], { 'up 7': 0, 'up 8': 0 });
    expect(sure.open).toBeUndefined();
    expect(sure.remedies[0]).not.toHaveProperty('openBelow');
  });

  it('tries two changes at once only where none helps by itself, for a third of the tries more', () => {
    const ladders = [ladder('plan', 'a', 2), ladder('tooling', 'b', 1)];
    const pairing: Pairing = (failed) =>
      failed.map(({ cost, change: { words } }) => ({ cost, change: change(`${words}+`, 1) }));
    expect(search(ladders, { 'b 1': 0 }, {}, pairing).asked).toEqual(['a 1', 'a 2', 'b 1']);
    const found = search(ladders, { 'b 1+': 1 }, { tries: 9 }, pairing);
    expect(found.asked).toEqual(['a 1', 'a 2', 'b 1', 'a 1+', 'a 2+', 'b 1+']);
    expect(found).toMatchObject({ words: ['b 1+'], tries: 6, pairs: 3, kinds: ['a', 'b', 'two-changes'] });
    expect(search(ladders, {}, { tries: 3 }, pairing).asked).toEqual(['a 1', 'b 1', 'a 1+']);
  });

  it('says what was tried when nothing helps', () => {
    const { remedies, kinds, tries, cutBy } = search([ladder('plan', 'a', 1), ladder('tooling', 'b', 2)], {});
    expect({ remedies, kinds, tries, cutBy }).toEqual({
      remedies: [],
      kinds: ['a', 'b'],
      tries: 3,
      cutBy: undefined,
    });
  });
});

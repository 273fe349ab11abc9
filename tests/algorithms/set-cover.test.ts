import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { addCost, compareCost, zeroCost, type Cost } from '../../src/algorithms/cost.js';
import type { LinearPrograms, Program } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { coverBySets, type SetCover, type SetCoverProblem } from '../../src/algorithms/set-cover.js';
import { Budget } from '../../src/base/budget.js';
import { compareVectors } from '../../src/base/order.js';

const TERMS = 2;
const cover = (problem: SetCoverProblem, steps = 200_000): SetCover =>
  coverBySets(problem, new Budget({ steps }));

/** Sets of elements with costs of two terms, some below zero; small numbers, so that there are ties. */
const problems = (most: number, sets: number): fc.Arbitrary<SetCoverProblem> =>
  fc.integer({ min: 1, max: most }).chain((elements) => {
    const member = fc.tuple(
      fc.integer({ min: 0, max: elements - 1 }),
      fc.tuple(fc.integer({ min: -1, max: 2 }), fc.integer({ min: -3, max: 9 })),
    );
    const set = fc.uniqueArray(member, { minLength: 1, maxLength: 5, selector: ([element]) => element });
    return fc.array(set, { minLength: 1, maxLength: sets }).map((list) => ({
      elements,
      terms: TERMS,
      sets: list.map((entries) => ({
        members: entries.map(([element]) => element),
        costs: entries.map(([, cost]) => cost),
      })),
    }));
  });

/** What it costs to serve every coverable element by these sets; undefined where one is left. */
function costOf({ elements, sets }: SetCoverProblem, chosen: readonly number[]): Cost | undefined {
  let sum = zeroCost(TERMS);
  for (let element = 0; element < elements; element += 1) {
    const offers = (among: readonly number[]): Cost[] =>
      among.flatMap((set) => sets[set]!.costs.filter((_, i) => sets[set]!.members[i] === element));
    if (offers(sets.map((_, set) => set)).length === 0) continue;
    const [best] = offers(chosen).sort(compareCost);
    if (best === undefined) return undefined;
    sum = addCost(sum, best);
  }
  return sum;
}

/** The best choice by looking at all subsets: fewest, then cheapest, then first. */
function bestOfAll(problem: SetCoverProblem): { readonly chosen: number[]; readonly cost: Cost } {
  let best: { chosen: number[]; cost: Cost } | undefined;
  for (let mask = 0; mask < 2 ** problem.sets.length; mask += 1) {
    const chosen = problem.sets.flatMap((_, set) => ((mask >> set) & 1 ? [set] : []));
    const cost = costOf(problem, chosen);
    if (cost === undefined) continue;
    const compared =
      best === undefined
        ? -1
        : chosen.length - best.chosen.length ||
          compareCost(cost, best.cost) ||
          compareVectors(chosen, best.chosen);
    if (compared < 0) best = { chosen, cost };
  }
  return best!;
}

/**
 * The same as an integer program: column x a set, y an element served by a set. Fewest sets count so much that costs never
 * outweigh one, the first term of costs so much more than the second.
 */
function asIntegerProgram({ elements, sets }: SetCoverProblem): Program {
  const single = (cost: Cost): number => cost[0]! * 1000 + cost[1]!;
  const columns = sets.map(() => ({ cost: 1e6, lower: 0, upper: 1, integer: true }));
  const rows: { lower: number; upper: number; entries: [number, number][] }[] = Array.from(
    { length: elements },
    () => ({ lower: 0, upper: 1, entries: [] }),
  );
  sets.forEach(({ members, costs }, set) => {
    members.forEach((element, i) => {
      const served = columns.push({ cost: single(costs[i]!), lower: 0, upper: 1, integer: true }) - 1;
      rows[element]!.lower = 1;
      rows[element]!.entries.push([served, 1]);
      rows.push({
        lower: 0,
        upper: Infinity,
        entries: [
          [set, 1],
          [served, -1],
        ],
      });
    });
  });
  return { columns, rows: rows.filter(({ entries }) => entries.length > 0) };
}

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

describe('the fewest sets that cover', () => {
  it('are proved by elements that share no set', () => {
    const cost = [0];
    const problem = {
      ...{ elements: 5, terms: 1 },
      sets: [
        { members: [0, 1], costs: [cost, cost] },
        { members: [1, 2], costs: [cost, cost] },
        { members: [2, 3], costs: [cost, cost] },
      ],
    };
    const found = cover(problem);
    expect(found).toMatchObject({ chosen: [0, 2], bound: 2, by: 'apart', costProved: true });
    expect(found.servedBy).toEqual([0, 0, 2, 2, undefined]);
    expect(found.apart).toHaveLength(2);
  });

  it('are proved by exhaustion where elements apart are fewer: three in a ring need two of three pairs', () => {
    const pair = (...members: number[]) => ({ members, costs: members.map(() => [1]) });
    const found = cover({ elements: 3, terms: 1, sets: [pair(0, 1), pair(1, 2), pair(2, 0)] });
    expect(found).toMatchObject({ chosen: [0, 1], cost: [3], bound: 2, by: 'exhausted' });
    expect(found.apart).toHaveLength(1);
  });

  it('give way to cost only among choices of as few, an earlier term before a later one', () => {
    const one = (...costs: Cost[]) => ({ members: costs.map((_, i) => i), costs });
    const whole = one([5, 5], [5, 5]);
    const cheaper = one([5, 4], [5, 9]);
    const firstTerm = one([0, 90], [9, 90]);
    const single = { members: [0], costs: [[0, 0]] };
    const problem = { elements: 2, terms: 2, sets: [single, whole, cheaper, firstTerm] };
    expect(cover(problem)).toMatchObject({ chosen: [3], cost: [9, 180] });
    expect(cover({ ...problem, sets: [single, whole, cheaper] })).toMatchObject({
      chosen: [1],
      cost: [10, 10],
    });
  });

  it('are none where no set has anything', () => {
    expect(cover({ elements: 2, terms: 1, sets: [] })).toMatchObject({
      ...{ chosen: [], bound: 0, by: 'apart', costProved: true },
      servedBy: [undefined, undefined],
    });
  });

  it('agree with the enumeration of all choices', () => {
    const proofs = new Set<string>();
    fc.assert(
      fc.property(problems(9, 9), (problem) => {
        const [found, best] = [cover(problem), bestOfAll(problem)];
        expect([found.chosen, found.cost]).toEqual([best.chosen, best.cost]);
        expect([found.bound, found.costProved]).toEqual([best.chosen.length, true]);
        for (const [i, a] of found.apart.entries())
          for (const b of found.apart.slice(i + 1))
            expect(problem.sets.some(({ members }) => members.includes(a) && members.includes(b))).toBe(
              false,
            );
        proofs.add(found.by);
      }),
      { numRuns: 400, seed: 31 },
    );
    expect([...proofs].sort()).toEqual(['apart', 'exhausted']);
  });

  it('agree with HiGHS on larger ones', () => {
    fc.assert(
      fc.property(problems(24, 30), (problem) => {
        const [found, witness] = [cover(problem), programs.solve(asIntegerProgram(problem))];
        if (witness.status !== 'optimal') throw new Error(`HiGHS says ${witness.status}`);
        const whole = found.chosen.length * 1e6 + found.cost[0]! * 1000 + found.cost[1]!;
        expect(found.costProved).toBe(true);
        expect(whole).toBe(Math.round(witness.objective));
      }),
      { numRuns: 100, seed: 32 },
    );
  });

  it('say what is proved where the budget ends, and repeat themselves', () => {
    fc.assert(
      fc.property(problems(20, 30), fc.integer({ min: 0, max: 30 }), (problem, steps) => {
        const [short, whole] = [cover(problem, steps), cover(problem)];
        expect(short.steps).toBeLessThanOrEqual(steps);
        expect(costOf(problem, short.chosen)).toEqual(short.cost);
        expect(short.bound).toBeLessThanOrEqual(whole.chosen.length);
        expect(short.by === 'budget').toBe(short.bound < short.chosen.length);
        if (short.by !== 'budget') expect(short.chosen.length).toBe(whole.chosen.length);
        if (short.costProved) expect([short.chosen, short.cost]).toEqual([whole.chosen, whole.cost]);
        expect(cover(problem, steps)).toEqual(short);
      }),
      { numRuns: 200, seed: 33 },
    );
  });

  it('never are fewer when an element is added to a fixed pool of sets', () => {
    fc.assert(
      fc.property(problems(10, 10), (problem) => {
        const last = problem.elements - 1;
        const kept = problem.sets.map(({ members, costs }) => ({
          members: members.filter((element) => element !== last),
          costs: costs.filter((_, i) => members[i] !== last),
        }));
        const fewer = cover({ ...problem, elements: last, sets: kept });
        expect(cover(problem).chosen.length).toBeGreaterThanOrEqual(fewer.chosen.length);
      }),
      { numRuns: 200, seed: 34 },
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { edgeFinder } from '../../src/algorithms/edge-finding.js';

interface Task {
  readonly head: number;
  readonly length: number;
  readonly tail: number;
}

const tasks = fc.array(
  fc.record({
    head: fc.integer({ min: 0, max: 15 }),
    length: fc.integer({ min: 0, max: 8 }),
    tail: fc.integer({ min: 0, max: 15 }),
  }),
  { minLength: 1, maxLength: 5 },
);

function find(list: readonly Task[], upper: number) {
  const finder = edgeFinder(6);
  finder.tasks.count = list.length;
  list.forEach(({ head, length, tail }, i) => {
    finder.tasks.head[i] = head;
    finder.tasks.length[i] = length;
    finder.tasks.tail[i] = tail;
  });
  return { ...finder.findings, possible: finder.raiseHeads(upper) };
}

/** Orders of the tasks that end within `upper`, each with the earliest start of every task. */
function legalOrders(
  list: readonly Task[],
  upper: number,
): { order: readonly number[]; starts: readonly number[] }[] {
  return permutations([...list.keys()]).flatMap((order) => {
    const starts: number[] = [];
    let end = 0;
    for (const i of order) {
      starts[i] = Math.max(end, list[i]!.head);
      end = starts[i]! + list[i]!.length;
      if (end + list[i]!.tail > upper) return [];
    }
    return [{ order, starts }];
  });
}

function permutations(items: readonly number[]): number[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item) =>
    permutations(items.filter((i) => i !== item)).map((rest) => [item, ...rest]),
  );
}

/** Jackson's preemptive bound: the greatest of least head, all lengths, least tail over the sets of tasks. */
function preemptiveBound(list: readonly Task[]): number {
  let bound = 0;
  for (let set = 1; set < 1 << list.length; set += 1) {
    const chosen = list.filter((_, i) => (set >> i) & 1);
    const work = chosen.reduce((sum, { length }) => sum + length, 0);
    const least = (key: 'head' | 'tail') => Math.min(...chosen.map((task) => task[key]));
    bound = Math.max(bound, least('head') + work + least('tail'));
  }
  return bound;
}

describe('edge finding', () => {
  it('gives up exactly where the preemptive bound is above the limit', () => {
    fc.assert(
      fc.property(tasks, fc.integer({ min: 0, max: 50 }), (list, upper) => {
        expect(find(list, upper).possible).toBe(preemptiveBound(list) <= upper);
      }),
      { seed: 7, numRuns: 2000 },
    );
  });

  it('claims only what holds in every order within the limit', () => {
    let claims = 0;
    fc.assert(
      fc.property(tasks, fc.integer({ min: 0, max: 8 }), (list, slack) => {
        const upper = preemptiveBound(list) + slack;
        const { after, later } = find(list, upper);
        for (const { order, starts } of legalOrders(list, upper)) {
          list.forEach((_, i) => {
            expect(starts[i]).toBeGreaterThanOrEqual(after[i]!);
            list.forEach((__, j) => {
              if (later[i * list.length + j] === 0) return;
              claims += 1;
              expect(order.indexOf(i)).toBeGreaterThan(order.indexOf(j));
            });
          });
        }
      }),
      { seed: 7, numRuns: 2000 },
    );
    expect(claims).toBeGreaterThan(1000);
  });

  it('orders a task behind two that leave it no room before or between them', () => {
    // By hand: tasks 1 and 2 have to end by 15 and need ten units from 4 on; with task 0 before or between, from 3 on, it
    // would be 16. So task 0 begins when they end, at 14.
    const list = [
      { head: 3, length: 3, tail: 0 },
      { head: 4, length: 5, tail: 3 },
      { head: 4, length: 5, tail: 3 },
    ];
    const { possible, after, later } = find(list, 18);
    expect(possible).toBe(true);
    expect([...after.subarray(0, 3)]).toEqual([14, -1, -1]);
    expect([...later.subarray(0, 9)]).toEqual([0, 1, 1, 0, 0, 0, 0, 0, 0]);
  });
});

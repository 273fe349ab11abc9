import { describe, expect, it } from 'vitest';
import type { Cost, SearchCounters } from '../../src/algorithms/problem.js';
import { bestOrder, type OrderReport } from '../../src/planning/best-order.js';
import type { CompleteOrder } from '../../src/planning/complete.js';
import { CompletedOrders } from '../../src/planning/completed-orders.js';
import type { OrderProblem } from '../../src/planning/order-problem.js';

const NONE: SearchCounters = {
  ...{ expanded: 1, generated: 0, completed: 0, refused: 0 },
  ...{ pruned: 0, dominated: 0, released: 0, dropped: 0 },
};

/** What a search finds: regrips, distortion and time of its best order, and its bound; proved unless it says otherwise. */
interface Found {
  readonly best?: readonly [regrips: number, distortion: number, time: number];
  readonly bound: Cost;
  readonly open?: boolean;
}

/** The best order by searches that find, one after the other, what is said; with how many were asked for. */
function chosen(most: number, estimated: boolean, ...finds: readonly Found[]) {
  return chosenFrom(undefined, most, estimated, ...finds);
}

const orderOf = ([regrips, distortion, time]: NonNullable<Found['best']>) =>
  ({
    ...{ stages: [], raw: { makespan: time }, regrips, toolChanges: 0, distortion },
  }) as unknown as CompleteOrder;

/** The same beginning with an order that is known, than which another one is better only if it saves so much time. */
function chosenFrom(
  begin: { readonly known: NonNullable<Found['best']>; readonly saving: number } | undefined,
  most: number,
  estimated: boolean,
  ...finds: readonly Found[]
) {
  const orders = new CompletedOrders();
  const known = begin && orderOf(begin.known);
  if (known) orders.add(known);
  const asked: boolean[] = [];
  let estimating = false;
  const problem = (value: boolean) => (): OrderProblem => {
    estimating = value;
    return { terms: 3, start: undefined, layers: 0 } as unknown as OrderProblem;
  };
  const report = bestOrder({
    ...{ objective: ['regrips', 'distortion', 'time'], most, orders },
    plain: problem(false),
    estimating: problem(true),
    everEstimated: () => estimated,
    ...{ known, saving: begin?.saving },
    search: (_, beginning): OrderReport => {
      const { best, bound, open } = finds[asked.length]!;
      asked.push(estimating);
      const rest = { bound, provedTerms: 0, counters: NONE, improvements: [] };
      const outcome = open === true ? 'feasible' : 'optimal';
      if (best === undefined && beginning) return { ...rest, outcome, best: beginning };
      if (best === undefined) return { outcome: 'impossible', ...rest };
      const [regrips, , time] = best;
      const result = orderOf(best);
      orders.add(result);
      return { outcome, best: { steps: [], cost: [regrips, 0, time], result }, ...rest };
    },
  });
  const { best, bound, provedTerms: proved, outcome } = report;
  return { cost: best?.cost, bound, proved, outcome, asked };
}

const GONE = [Infinity, Infinity, Infinity];

describe('the best order', () => {
  it('is that of the first search where it keeps every limit, and then no estimate is asked for', () => {
    expect(chosen(4, true, { best: [1, 0, 50], bound: [1, 0, 50] })).toEqual({
      ...{ cost: [1, 0, 50], bound: [1, 0, 50], proved: 3, outcome: 'optimal', asked: [false] },
    });
  });

  it('is looked for among the next best, and proved where no estimate had a say', () => {
    const first = { best: [1, 2, 50], bound: [1, 0, 50] } as const;
    const second = { best: [1, 0, 60], bound: [1, 0, 60] } as const;
    expect(chosen(4, false, first, second)).toMatchObject({
      cost: [1, 0, 60],
      proved: 3,
      asked: [false, true],
    });
  });

  it('is proved without the estimate, or only as far as the distortion', () => {
    const first = { best: [1, 2, 50], bound: [1, 0, 50] } as const;
    const led = { best: [1, 0, 60], bound: [1, 0, 40] } as const;
    const [same, worse] = [
      { best: [1, 0, 60], bound: [1, 0, 60] },
      { best: [1, 3, 55], bound: [1, 0, 55] },
    ] as const;
    const asked = [false, true, false];
    expect(chosen(2, true, first, led, same)).toMatchObject({ proved: 3, outcome: 'optimal', asked });
    expect(chosen(2, true, first, led, worse)).toMatchObject({ proved: 2, outcome: 'feasible', asked });
  });

  it('may have been found by a search for the proof', () => {
    const first = { best: [1, 2, 50], bound: [1, 0, 50] } as const;
    const led = { best: [1, 0, 60], bound: [1, 0, 40] } as const;
    const quicker = { best: [1, 0, 55], bound: [1, 0, 55] } as const;
    expect(chosen(2, true, first, led, quicker)).toMatchObject({ cost: [1, 0, 55], proved: 3 });
  });

  it('has no proved distortion above 0 while others are left, and one where none is', () => {
    const first = { best: [1, 2, 50], bound: [1, 0, 50] } as const;
    const second = { best: [1, 3, 60], bound: [1, 0, 60] } as const;
    expect(chosen(2, false, first, second)).toMatchObject({
      cost: [1, 2, 50],
      proved: 1,
      outcome: 'feasible',
    });
    expect(chosen(4, true, first, second, { bound: GONE })).toMatchObject({ cost: [1, 2, 50], proved: 3 });
  });

  it('is proved, and looked for no further, once what counts before the distortion is dearer', () => {
    const first = { best: [1, 2, 50], bound: [1, 0, 50] } as const;
    const dearer = { best: [2, 3, 40], bound: [2, 0, 40] } as const;
    expect(chosen(4, false, first, dearer)).toMatchObject({
      cost: [1, 2, 50],
      asked: [false, true],
      proved: 3,
    });
  });

  it('is not proved by what a search says after one that did not end', () => {
    const first = { best: [1, 2, 50], bound: [0, 0, 40], open: true } as const;
    const second = { best: [1, 0, 60], bound: [1, 0, 60] } as const;
    expect(chosen(2, false, first, second, second)).toMatchObject({ proved: 0, outcome: 'feasible' });
  });
});

describe('the best order beside one that is known', () => {
  const known = [1, 0, 500] as const;
  const from = (saving: number, ...finds: readonly Found[]) =>
    chosenFrom({ known, saving }, 4, false, ...finds);

  it('is the known one where none is better, proved but for what another must save', () => {
    expect(from(0, { bound: [1, 0, 500] })).toMatchObject({ cost: [1, 0, 500], outcome: 'optimal' });
    expect(from(100, { bound: [1, 0, 400] })).toMatchObject({
      ...{ cost: [1, 0, 500], bound: [1, 0, 400], proved: 2, outcome: 'feasible' },
    });
  });

  it('is another one only if it saves as much as it must', () => {
    const by = (time: number): Found => ({ best: [1, 0, time], bound: [1, 0, Math.min(time, 400)] });
    expect(from(0, by(499))).toMatchObject({ cost: [1, 0, 499] });
    expect(from(100, by(401))).toMatchObject({ cost: [1, 0, 500] });
    expect(from(100, by(399))).toMatchObject({ cost: [1, 0, 399], outcome: 'optimal' });
  });

  it('is any that is better before the time', () => {
    const fewer = { best: [0, 0, 900], bound: [0, 0, 900] } as const;
    expect(from(100, fewer)).toMatchObject({ cost: [0, 0, 900], outcome: 'optimal' });
  });

  it('is looked for as ever where the known one exceeds the limits', () => {
    const first = { best: [1, 0, 480], bound: [1, 0, 480] } as const;
    const begin = { known: [1, 2, 400], saving: 100 } as const;
    expect(chosenFrom(begin, 4, false, first)).toMatchObject({ cost: [1, 0, 480], outcome: 'optimal' });
  });
});

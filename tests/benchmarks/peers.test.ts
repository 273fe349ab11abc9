import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadPeer, type Contestant } from '../../benchmarks/peers/contestants.js';
import { judgeOrdering, judgeWeldment } from '../../benchmarks/peers/judge.js';
import { minizincVersion } from '../../benchmarks/peers/minizinc.js';
import { loadOurs } from '../../benchmarks/peers/ours.js';
import { seededOrdering, seededWeldment } from '../../benchmarks/peers/instances.js';
import type { SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import type { ObjectiveTerm } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { allOrders, randomOrdering } from '../algorithms/small-orderings.js';
import { leastByEnumeration } from '../planning/abstract-enumeration.js';
import { anyObjective, randomAbstract, smallAbstract } from '../planning/abstract-samples.js';

/** Long enough never to end a run of these sizes. */
const PATIENCE = 600;
const installed = minizincVersion() !== undefined;

/** The cost of the plan that a contestant proves, as the rules and the judge count it; undefined: proved impossible. */
function provedWeldment(
  by: Contestant,
  weldment: AbstractWeldment,
  terms: readonly ObjectiveTerm[],
): readonly number[] | undefined {
  const answer = by.weldment(weldment, terms, PATIENCE);
  if (answer.status !== 'optimal') return void expect(answer.status).toBe('infeasible');
  const judged = judgeWeldment(weldment, terms, answer.plan);
  if (!judged.ok) throw new Error(judged.error);
  return judged.value;
}

function provedOrdering(by: Contestant, instance: SequentialOrdering): number | undefined {
  const answer = by.ordering(instance, PATIENCE);
  if (answer.status !== 'optimal') return void expect(answer.status).toBe('infeasible');
  const judged = judgeOrdering(instance, answer.plan);
  if (!judged.ok) throw new Error(judged.error);
  return judged.value;
}

const leastOrdering = (instance: SequentialOrdering): number =>
  Math.min(...allOrders(instance).map(({ cost }) => cost));

const smallOrdering = (most: number): fc.Arbitrary<SequentialOrdering> =>
  fc
    .record({
      seed: fc.integer(),
      n: fc.integer({ min: 3, max: most }),
      density: fc.double({ min: 0, max: 0.6, noNaN: true }),
    })
    .map(({ seed, n, density }) => randomOrdering(seed, n, density));

/** With fixed seeds, so that a run can be repeated. */
const runs = (numRuns: number): fc.Parameters<unknown> => ({ numRuns, seed: 7 });

describe('our search', () => {
  let ours: Contestant;
  beforeAll(async () => {
    ours = await loadOurs('src');
  });

  it('finds what enumeration finds, in hundreds of small weldments', () => {
    fc.assert(
      fc.property(smallAbstract, anyObjective, (weldment, terms) => {
        expect(provedWeldment(ours, weldment, terms)).toEqual(leastByEnumeration(weldment, terms));
      }),
      runs(300),
    );
  });

  it('finds what enumeration finds, in hundreds of small orderings', () => {
    fc.assert(
      fc.property(smallOrdering(7), (instance) => {
        expect(provedOrdering(ours, instance)).toBe(leastOrdering(instance));
      }),
      runs(300),
    );
  });
});

describe.each(['positions', 'arcs'] as const)('HiGHS by %s', (name) => {
  let peer: Contestant;
  let ours: Contestant;
  beforeAll(async () => {
    peer = await loadPeer(name);
    ours = await loadOurs('src');
  });

  it('finds what enumeration finds, in small weldments', () => {
    fc.assert(
      fc.property(smallAbstract, anyObjective, (weldment, terms) => {
        expect(provedWeldment(peer, weldment, terms)).toEqual(leastByEnumeration(weldment, terms));
      }),
      runs(40),
    );
  });

  it('finds what enumeration finds, in small orderings', () => {
    fc.assert(
      fc.property(smallOrdering(6), (instance) => {
        expect(provedOrdering(peer, instance)).toBe(leastOrdering(instance));
      }),
      runs(30),
    );
  });

  it('finds what our search finds, in weldments of six and orderings of eight', () => {
    for (const seed of [1, 2, 3]) {
      const weldment = seededWeldment(seed, 6);
      const terms = ['regrips', 'tool-changes', 'time'] as const;
      expect(provedWeldment(peer, weldment, terms)).toEqual(provedWeldment(ours, weldment, terms));
      const ordering = seededOrdering(seed, 8);
      expect(provedOrdering(peer, ordering)).toBe(provedOrdering(ours, ordering));
    }
  });
});

describe.skipIf(!installed)(`MiniZinc${installed ? '' : ': not installed, left out'}`, () => {
  it('finds what our search and enumeration find', async () => {
    const peer = await loadPeer('minizinc');
    const ours = await loadOurs('src');
    const shape = { parts: 5, grippers: 3, ways: 3, relations: 0.2, backwards: 0, contacts: 0.3 };
    for (const seed of [1, 2, 3, 4]) {
      const weldment = randomAbstract(seed, shape);
      const terms: readonly ObjectiveTerm[] =
        seed % 2 === 0 ? ['time', 'tool-changes', 'regrips'] : ['regrips', 'tool-changes', 'time'];
      expect(provedWeldment(peer, weldment, terms)).toEqual(leastByEnumeration(weldment, terms));
      const ordering = randomOrdering(seed, 7, 0.3);
      expect(provedOrdering(peer, ordering)).toBe(leastOrdering(ordering));
    }
    const larger = seededWeldment(2, 10);
    const terms = ['regrips', 'tool-changes', 'time'] as const;
    expect(provedWeldment(peer, larger, terms)).toEqual(provedWeldment(ours, larger, terms));
  });

  it('says when there is no order', async () => {
    const peer = await loadPeer('minizinc');
    const apart = { ...seededWeldment(1, 4), contacts: [] };
    expect(provedWeldment(peer, apart, ['regrips', 'tool-changes', 'time'])).toBeUndefined();
  });
});

describe('the judge', () => {
  it('refuses what no order may do', () => {
    const cost = [
      [0, 1, 1, 1],
      [1, 0, -1, 1],
      [1, 1, 0, 1],
      [-1, 1, 1, 0],
    ];
    expect(judgeOrdering({ cost }, [0, 2, 1, 3])).toEqual({ ok: true, value: 3 });
    expect(judgeOrdering({ cost }, [0, 1, 2, 3]).ok).toBe(false);
    expect(judgeOrdering({ cost }, [0, 2, 3]).ok).toBe(false);
    expect(judgeOrdering({ cost }, [2, 0, 1, 3]).ok).toBe(false);
    expect(judgeOrdering({ cost }, [0, 2, 2, 3]).ok).toBe(false);
  });

  it('refuses a plan that skips, turns round or invents', async () => {
    const terms = ['regrips', 'tool-changes', 'time'] as const;
    const weldment = seededWeldment(1, 6);
    const answer = (await loadOurs('src')).weldment(weldment, terms, PATIENCE);
    if (answer.status !== 'optimal') throw new Error(answer.status);
    const { plan } = answer;
    expect(judgeWeldment(weldment, terms, plan).ok).toBe(true);
    expect(judgeWeldment(weldment, terms, plan.slice(1)).ok).toBe(false);
    expect(judgeWeldment(weldment, terms, [...plan].reverse()).ok).toBe(false);
    expect(judgeWeldment(weldment, terms, [{ ...plan[0]!, regrips: 7 }, ...plan.slice(1)]).ok).toBe(false);
  });
});

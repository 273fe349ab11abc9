import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countPaths } from '../../src/algorithms/count-paths.js';
import { compareCost } from '../../src/algorithms/cost.js';
import { search } from '../../src/algorithms/search.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { DEFAULT_SETTINGS, withoutShapes } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { AbstractProblem, type AbstractState, type Moves } from '../../src/planning/abstract-problem.js';
import { allOrders, leastByEnumeration } from './abstract-enumeration.js';
import {
  anyObjective,
  bareParts,
  partsOnly,
  plenty,
  randomAbstract,
  smallAbstract,
} from './abstract-samples.js';

const objective = withoutShapes(DEFAULT_SETTINGS.objective);

function ringOfSix(): AbstractWeldment {
  const file = 'examples/ring-of-six/ring-of-six.weldment.yaml';
  const reading = readWeldment(readFileSync(file, 'utf8'), file);
  if (reading.value?.kind !== 'abstract') throw new RangeError('The example is not an abstract weldment.');
  return reading.value;
}

/** Each part of a chain needs the one before it. */
const chain = (from: number, to: number): AbstractWeldment['needs'] =>
  Array.from({ length: to - from - 1 }, (_, i) => ({ part: `p${from + i + 1}`, after: [`p${from + i}`] }));

const orders = (weldment: AbstractWeldment): bigint | undefined => {
  const count = countPaths(new AbstractProblem(weldment, objective), plenty());
  return count.ok ? count.value : undefined;
};

describe('the orders of a weldment without shapes', () => {
  it('are n! for n parts without any relation', () => {
    expect([0, 1, 2, 5, 8].map((n) => orders(bareParts(n)))).toEqual([1n, 1n, 2n, 120n, 40320n]);
  });

  it('are one for a chain', () => {
    expect(orders(bareParts(9, { needs: chain(0, 9) }))).toBe(1n);
    const blocking = chain(0, 9).map(({ part, after }) => ({ part: after[0]!, by: [part] }));
    expect(orders(bareParts(9, { blocking }))).toBe(1n);
  });

  it.each([
    [3, 4, 35n],
    [5, 5, 252n],
    [2, 30, 496n],
  ])('are (m + n over m) for two chains of %i and %i', (m, n, expected) => {
    expect(orders(bareParts(m + n, { needs: [...chain(0, m), ...chain(m, m + n)] }))).toBe(expected);
  });

  it('of a path of contacts grow from where they begin: 2^(n-1)', () => {
    const contacts = Array.from({ length: 9 }, (_, i) => [`p${i}`, `p${i + 1}`] as const);
    expect(orders(bareParts(10, { contacts }))).toBe(512n);
    expect(orders(bareParts(10, { contacts, first: 'p0' }))).toBe(1n);
  });

  it('are those that a plain enumeration finds', () => {
    fc.assert(
      fc.property(smallAbstract, (weldment) => {
        const bare = { ...weldment, parts: weldment.parts.map((part) => ({ ...part, ways: [] })) };
        expect(orders(bare)).toBe(BigInt(allOrders(bare).length));
      }),
      { numRuns: 300 },
    );
  });
});

describe('the search over them', () => {
  it.each<Moves>(['all', 'needed'])(
    'with %s moves finds what enumeration finds, or that there is nothing',
    (moves) => {
      let impossible = 0;
      fc.assert(
        fc.property(smallAbstract, anyObjective, (weldment, terms) => {
          const least = leastByEnumeration(weldment, terms);
          if (least === undefined) impossible += 1;
          const report = search(new AbstractProblem(weldment, terms, moves), { budget: plenty() });
          expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
          expect(report.best?.cost).toEqual(least);
        }),
        { numRuns: 400 },
      );
      expect(impossible).toBeGreaterThan(10);
    },
  );

  it('takes a part that needs no gripper without touching what is on the arm', () => {
    const wide = [{ gripper: 'wide', regrips: 0, seconds: 5 }];
    const weldment = partsOnly(
      { a: wide, b: [], c: wide },
      {
        needs: [
          { part: 'b', after: ['a'] },
          { part: 'c', after: ['b'] },
        ],
      },
    );
    const { best } = search(new AbstractProblem(weldment, objective), { budget: plenty() });
    expect(best?.cost).toEqual([0, 0, 10_000]);
    expect(best?.steps.map(({ gripper }) => gripper)).toEqual(['wide', null, 'wide']);
  });
});

/** Walks every state that can be reached. */
function reachable(problem: AbstractProblem): AbstractState[] {
  const states = new Map<string, AbstractState>();
  const waiting = [problem.start];
  for (let state = waiting.pop(); state !== undefined; state = waiting.pop()) {
    const key = problem.key(state);
    if (states.has(key)) continue;
    states.set(key, state);
    for (const { to } of problem.transitions(state)) waiting.push(to);
  }
  return [...states.values()];
}

describe('the bound', () => {
  it('is never above the cheapest completion, in any state', () => {
    fc.assert(
      fc.property(smallAbstract, anyObjective, (weldment, terms) => {
        const problem = new AbstractProblem(weldment, terms);
        for (const start of reachable(problem)) {
          const layers = problem.layers - start.count;
          const rest = search(
            {
              terms: 3,
              start,
              layers,
              layer: (state: AbstractState) => state.count - start.count,
              key: (state) => problem.key(state),
              transitions: (state) => problem.transitions(state),
              bound: () => [0, 0, 0],
            },
            { budget: plenty() },
          );
          const truth = rest.best?.cost ?? [Infinity, Infinity, Infinity];
          expect(compareCost(problem.bound(start), truth)).toBeLessThanOrEqual(0);
        }
      }),
      { numRuns: 200 },
    );
  });

  const shape = { parts: 12, grippers: 3, ways: 2, relations: 0.15, backwards: 0, contacts: 0.2 };
  it.each([
    ['ring of six', ringOfSix()],
    ['twelve parts', randomAbstract(3, shape)],
    ['twelve other parts', randomAbstract(4, { ...shape, contacts: undefined })],
  ])('saves work and is not zero at the start: %s', (_, weldment) => {
    for (const moves of ['all', 'needed'] as const) {
      const problem = new AbstractProblem(weldment, objective, moves);
      const blind = {
        terms: 3,
        start: problem.start,
        layers: problem.layers,
        layer: (state: AbstractState) => state.count,
        key: (state: AbstractState) => problem.key(state),
        transitions: (state: AbstractState) => problem.transitions(state),
        bound: () => [0, 0, 0],
      };
      const [bounded, unbounded] = [problem, blind].map((p) => search(p, { budget: plenty() }));
      expect(compareCost(problem.bound(problem.start), [0, 0, 0])).toBeGreaterThan(0);
      expect(unbounded!.best?.cost).toEqual(bounded!.best?.cost);
      expect(unbounded!.counters.expanded).toBeGreaterThan(bounded!.counters.expanded);
    }
  });

  it('sees a change that a chain of parts forces although two grippers would do with one', () => {
    const by = (gripper: string) => [{ gripper, regrips: 0, seconds: 1 }];
    const parts = { p0: by('x'), p1: by('y'), p2: by('x'), p3: by('y') };
    const problem = new AbstractProblem(partsOnly(parts, { needs: chain(0, 4) }), [
      'tool-changes',
      'time',
      'regrips',
    ]);
    expect(problem.bound(problem.start)).toEqual([3, 4000 + 3 * 12_000, 0]);
  });

  it('counts every gripper that some part cannot do without, however many there are', () => {
    const parts = Object.fromEntries(
      Array.from({ length: 40 }, (_, i) => [`p${i}`, [{ gripper: `g${i % 20}`, regrips: 0, seconds: 1 }]]),
    );
    const problem = new AbstractProblem(partsOnly(parts), objective, 'needed');
    expect(problem.bound(problem.start)).toEqual([0, 19, 40_000 + 19 * 12_000]);
    expect(search(problem, { budget: plenty() }).best?.cost).toEqual([0, 19, 40_000 + 19 * 12_000]);
  });
});

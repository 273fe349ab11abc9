import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countPaths } from '../../src/algorithms/count-paths.js';
import { addCost, compareCost } from '../../src/algorithms/cost.js';
import { beam } from '../../src/algorithms/solvers/beam.js';
import type { SolverReport } from '../../src/algorithms/solvers/solver.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { DEFAULT_SETTINGS, withoutShapes } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import type { Moves } from '../../src/planning/abstract-moves.js';
import { AbstractProblem } from '../../src/planning/abstract-problem.js';
import { allOrders, leastByEnumeration } from './abstract-enumeration.js';
import {
  anyObjective,
  bareParts,
  partsOnly,
  plenty,
  randomAbstract,
  smallAbstract,
  smallWithCopies,
} from './abstract-samples.js';
import { boundAtStart, walked, type WalkedState } from './packed-walk.js';

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

const searched = (problem: AbstractProblem): SolverReport =>
  beam(problem, { budget: plenty(), memory: 2 ** 26, seed: 1 });

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
          const report = searched(new AbstractProblem(weldment, terms, moves));
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
    const problem = new AbstractProblem(weldment, objective);
    const { best } = searched(problem);
    expect(best?.cost).toEqual([0, 0, 10_000]);
    expect(problem.steps(best!.steps).map(({ gripper }) => gripper)).toEqual(['wide', null, 'wide']);
  });
});

describe('every state that can be reached', () => {
  const eitherKind = fc.oneof(smallAbstract, smallWithCopies);

  it('has a bound that is at most the cheapest completion', () => {
    fc.assert(
      fc.property(
        eitherKind,
        anyObjective,
        fc.constantFrom<Moves>('all', 'needed'),
        (weldment, terms, moves) => {
          const problem = new AbstractProblem(weldment, terms, moves);
          for (const { bound, toGo } of walked(problem).values())
            expect(compareCost(bound, toGo)).toBeLessThanOrEqual(0);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('can be finished at the same cost with the moves that are needed as with all', () => {
    fc.assert(
      fc.property(eitherKind, anyObjective, (weldment, terms) => {
        const all = walked(new AbstractProblem(weldment, terms, 'all'));
        const needed = walked(new AbstractProblem(weldment, terms, 'needed'));
        for (const { key, toGo } of needed.values()) expect(toGo).toEqual(all.get(key)!.toGo);
      }),
      { numRuns: 400 },
    );
  });

  it('costs at most the surcharge more to finish than another with the same parts in place', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        eitherKind,
        anyObjective,
        fc.constantFrom<Moves>('all', 'needed'),
        (weldment, terms, moves) => {
          const problem = new AbstractProblem(weldment, terms, moves);
          const { dominance } = problem;
          const groups = new Map<string, WalkedState[]>();
          for (const state of walked(problem).values()) {
            const inPlace = state.row.subarray(0, dominance.words).join('.');
            groups.set(inPlace, [...(groups.get(inPlace) ?? []), state]);
          }
          const surcharge = new Float64Array(3);
          for (const group of groups.values())
            for (const a of group)
              for (const b of group) {
                dominance.surcharge(a.row, b.row, surcharge);
                expect(compareCost(a.toGo, addCost(b.toGo, [...surcharge]))).toBeLessThanOrEqual(0);
                compared += 1;
              }
        },
      ),
      { numRuns: 200 },
    );
    expect(compared).toBeGreaterThan(500);
  });

  it('carries what follows from the parts in place: equal keys, equal rows', () => {
    fc.assert(
      fc.property(eitherKind, anyObjective, (weldment, terms) => {
        const problem = new AbstractProblem(weldment, terms);
        const states = walked(problem);
        const cost = new Float64Array(3);
        const after = new Uint32Array(problem.words);
        for (const { row, moves } of states.values())
          for (const { move, to } of moves) {
            problem.follow(row, move, after, cost);
            expect([...after]).toEqual([...states.get(to)!.row]);
          }
      }),
      { numRuns: 100 },
    );
  });
});

describe('the bound', () => {
  const shape = { parts: 12, grippers: 3, ways: 2, relations: 0.15, backwards: 0, contacts: 0.2 };
  it.each([
    ['ring of six', ringOfSix()],
    ['twelve parts', randomAbstract(3, shape)],
    ['twelve other parts', randomAbstract(4, { ...shape, contacts: undefined })],
  ])('saves work and is not zero at the start: %s', (_, weldment) => {
    for (const moves of ['all', 'needed'] as const) {
      const made = (): AbstractProblem => new AbstractProblem(weldment, objective, moves);
      const blind = Object.create(made(), {
        bound: { value: (_state: unknown, _layer: unknown, into: Float64Array) => void into.fill(0) },
      }) as AbstractProblem;
      const [bounded, unbounded] = [made(), blind].map((problem) => searched(problem));
      expect(compareCost(boundAtStart(made()), [0, 0, 0])).toBeGreaterThan(0);
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
    expect(boundAtStart(problem)).toEqual([3, 4000 + 3 * 12_000, 0]);
  });

  it('counts every gripper that some part cannot do without, however many there are', () => {
    const parts = Object.fromEntries(
      Array.from({ length: 40 }, (_, i) => [`p${i}`, [{ gripper: `g${i % 20}`, regrips: 0, seconds: 1 }]]),
    );
    const problem = new AbstractProblem(partsOnly(parts), objective, 'needed');
    expect(boundAtStart(problem)).toEqual([0, 19, 40_000 + 19 * 12_000]);
    expect(searched(problem).best?.cost).toEqual([0, 19, 40_000 + 19 * 12_000]);
  });
});

describe('numbers that cannot be counted without rounding', () => {
  const lone = (way: { regrips: number; seconds: number }): AbstractWeldment =>
    partsOnly({ a: [{ gripper: 'g', ...way }] });

  it.each([
    ['regrips that do not fit into a word', lone({ regrips: 2 ** 32, seconds: 0 })],
    ['times whose sums would be rounded', lone({ regrips: 0, seconds: 1e13 })],
    ['tacks', bareParts(2, { joints: [{ between: ['p0', 'p1'], tacks: 2 ** 40 }] })],
    ['tool changes', bareParts(2, { times: { tack: 0, toolChange: 1e12 } })],
  ])('are refused rather than proved with: %s', (_, weldment) => {
    expect(() => new AbstractProblem(weldment, objective)).toThrow(RangeError);
  });

  it('are far from the largest that are taken', () => {
    const report = searched(new AbstractProblem(lone({ regrips: 1e9, seconds: 999_999_987.1 }), objective));
    expect(report.best?.cost).toEqual([1e9, 0, 999_999_987_100]);
  });
});

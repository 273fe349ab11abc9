import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import type { OrderFact } from '../../src/planning/abstract-facts.js';
import { abstractConflicts, explainAbstract } from '../../src/planning/abstract-impossible.js';
import { bareParts, randomAbstract, solve } from './abstract-samples.js';

/** Whether some order keeps these facts of a weldment and no others: every order is tried. */
function possible({ parts, contacts }: AbstractWeldment, facts: readonly OrderFact[]): boolean {
  const keeps = (order: readonly string[]): boolean =>
    facts.every((fact) => {
      const at = order.indexOf(fact.part);
      if (fact.kind === 'first') return at === 0;
      if (fact.kind === 'needs') return order.indexOf(fact.after) < at;
      if (fact.kind === 'blocking') return order.indexOf(fact.by) > at;
      const touched = contacts!.flatMap(([a, b]) => (a === fact.part ? [b] : b === fact.part ? [a] : []));
      return at === 0 || touched.some((id) => order.indexOf(id) < at);
    });
  const walk = (order: readonly string[], rest: readonly string[]): boolean =>
    rest.length === 0
      ? keeps(order)
      : rest.some((id) =>
          walk(
            [...order, id],
            rest.filter((other) => other !== id),
          ),
        );
  return walk(
    [],
    parts.map(({ id }) => id),
  );
}

/** The facts of the first minimal set. */
const abstractImpossible = (...of: Parameters<typeof abstractConflicts>): readonly OrderFact[] | undefined =>
  abstractConflicts(...of)[0]?.items;

describe('two parts that block each other', () => {
  const weldment = bareParts(4, {
    contacts: [
      ['p0', 'p1'],
      ['p1', 'p2'],
      ['p2', 'p3'],
    ],
    blocking: [
      { part: 'p1', by: ['p2', 'p3'] },
      { part: 'p2', by: ['p1'] },
    ],
    needs: [{ part: 'p3', after: ['p0'] }],
  });

  it('are proved impossible without a single step, and named, and nothing else is', () => {
    const report = solve(weldment);
    expect(report.outcome).toBe('impossible');
    expect(report.counters.expanded).toBe(0);
    expect(abstractImpossible(weldment)).toEqual([
      { kind: 'blocking', part: 'p1', by: 'p2' },
      { kind: 'blocking', part: 'p2', by: 'p1' },
    ]);
    expect(explainAbstract(weldment)).toEqual({
      ...{ scope: 'any', needed: 2, also: [], mayBeMore: false },
      reasons: [
        { code: 'blocking', subjects: ['p1', 'p2'], fact: { kind: 'blocking', part: 'p1', other: 'p2' } },
        { code: 'blocking', subjects: ['p2', 'p1'], fact: { kind: 'blocking', part: 'p2', other: 'p1' } },
      ],
    });
  });
});

describe('facts that rule every order out', () => {
  it('may be contacts: two groups that nothing joins', () => {
    const weldment = bareParts(4, {
      contacts: [
        ['p0', 'p1'],
        ['p2', 'p3'],
      ],
    });
    expect(abstractImpossible(weldment)).toEqual(
      ['p0', 'p1', 'p2', 'p3'].map((part) => ({ kind: 'contact', part })),
    );
  });

  it('may be a wish against a need', () => {
    const weldment = bareParts(3, { first: 'p1', needs: [{ part: 'p1', after: ['p0', 'p2'] }] });
    expect(abstractImpossible(weldment)).toEqual([
      { kind: 'first', part: 'p1' },
      { kind: 'needs', part: 'p1', after: 'p2' },
    ]);
  });

  it('may mix: a part that only touches what must come after it, and is not the first', () => {
    const weldment = bareParts(3, {
      contacts: [
        ['p0', 'p1'],
        ['p1', 'p2'],
      ],
      first: 'p1',
      blocking: [{ part: 'p0', by: ['p1'] }],
    });
    expect(abstractImpossible(weldment)).toEqual([
      { kind: 'first', part: 'p1' },
      { kind: 'blocking', part: 'p0', by: 'p1' },
    ]);
    const later = bareParts(4, {
      contacts: [
        ['p0', 'p1'],
        ['p2', 'p1'],
        ['p2', 'p3'],
      ],
      blocking: [{ part: 'p0', by: ['p1'] }],
      needs: [{ part: 'p0', after: ['p3'] }],
    });
    expect(abstractImpossible(later)?.map(({ kind }) => kind)).toEqual(['contact', 'needs', 'blocking']);
  });

  it('are none when there is an order', () => {
    expect(abstractImpossible(bareParts(3, { needs: [{ part: 'p0', after: ['p2'] }] }))).toBeUndefined();
  });

  it('suffice, and each is needed', () => {
    const cases = { impossible: 0, contacts: 0 };
    fc.assert(
      fc.property(
        fc.record({
          seed: fc.integer(),
          parts: fc.integer({ min: 2, max: 5 }),
          relations: fc.constantFrom(0.3, 0.6, 0.9),
          backwards: fc.constantFrom(0.1, 0.4),
          contacts: fc.constantFrom(undefined, 0, 0.3),
          drop: fc.boolean(),
        }),
        ({ seed, drop, ...shape }) => {
          const made = randomAbstract(seed, { ...shape, grippers: 2, ways: 1 });
          // Half of them lose contacts, so that these too can be what rules an order out.
          const weldment = drop ? { ...made, contacts: made.contacts?.slice(1) } : made;
          const facts = abstractImpossible(weldment);
          expect(facts !== undefined).toBe(solve(weldment).outcome === 'impossible');
          if (facts === undefined) return;
          cases.impossible += 1;
          if (facts.some(({ kind }) => kind === 'contact')) cases.contacts += 1;
          expect(possible(weldment, facts)).toBe(false);
          facts.forEach((_, i) => expect(possible(weldment, facts.toSpliced(i, 1))).toBe(true));
        },
      ),
      { numRuns: 400 },
    );
    expect(cases.impossible).toBeGreaterThan(100);
    expect(cases.contacts).toBeGreaterThan(10);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { criticalPath, type Activity, type Precedence } from '../../src/algorithms/critical-path.js';

const act = (id: string, duration: number): Activity => ({ id, duration });

describe('criticalPath', () => {
  it('solves a network by hand', () => {
    const found = criticalPath(
      [act('a', 3), act('b', 2), act('c', 4), act('d', 1)],
      [
        { from: 'a', to: 'c' },
        { from: 'b', to: 'c', lag: 2 },
        { from: 'b', to: 'd' },
      ],
    );
    if (!found.ok) throw new Error('refused');
    expect(found.value.makespan).toBe(8);
    expect([...found.value.earliestStart]).toEqual([
      ['a', 0],
      ['b', 0],
      ['c', 4],
      ['d', 2],
    ]);
    expect([...found.value.latestStart]).toEqual([
      ['a', 1],
      ['b', 0],
      ['c', 4],
      ['d', 7],
    ]);
    expect(found.value.chain).toEqual(['b', 'c']);
  });

  it('counts a lag from the start where it is told to', () => {
    const found = criticalPath(
      [act('long', 10), act('short', 1)],
      [{ from: 'long', to: 'short', since: 'start', lag: 2 }],
    );
    expect(found.ok && found.value.earliestStart.get('short')).toBe(2);
    expect(found.ok && found.value.latestStart.get('short')).toBe(9);
    expect(found.ok && found.value.chain).toEqual(['long']);
  });

  it('has nothing to do with nothing', () => {
    expect(criticalPath([], [])).toMatchObject({ ok: true, value: { makespan: 0, chain: [] } });
  });

  it('names a cycle and an unknown activity', () => {
    const two = [act('a', 1), act('b', 1)];
    const round = [
      { from: 'a', to: 'b' },
      { from: 'b', to: 'a' },
    ];
    expect(criticalPath(two, round)).toEqual({ ok: false, error: { kind: 'cycle', nodes: ['a', 'b'] } });
    expect(criticalPath(two, [{ from: 'a', to: 'z' }])).toEqual({
      ok: false,
      error: { kind: 'unknown-activity', id: 'z' },
    });
  });

  it('agrees with relaxing every precedence until nothing moves', () => {
    fc.assert(
      fc.property(network, ({ activities, precedences }) => {
        const found = criticalPath(activities, precedences);
        if (!found.ok) throw new Error('refused');
        const { makespan, earliestStart, latestStart, chain } = found.value;
        const relaxed = relax(activities, precedences);
        expect(Object.fromEntries(earliestStart)).toEqual(relaxed.earliest);
        expect(makespan).toBe(relaxed.makespan);
        for (const { id } of activities) {
          // Latest start: the least delay that would move the end, found by trying.
          const slack = latestStart.get(id)! - earliestStart.get(id)!;
          expect(relax(activities, precedences, { [id]: latestStart.get(id)! }).makespan).toBe(makespan);
          expect(relax(activities, precedences, { [id]: latestStart.get(id)! + 1 }).makespan).toBeGreaterThan(
            makespan,
          );
          expect(slack).toBeGreaterThanOrEqual(0);
          if (chain.includes(id)) expect(slack).toBe(0);
        }
      }),
      { numRuns: 300 },
    );
  });
});

const network = fc
  .tuple(
    fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 8 }),
    fc.array(
      fc.record({
        a: fc.nat(7),
        b: fc.nat(7),
        lag: fc.integer({ min: -2, max: 5 }),
        since: fc.constantFrom('start' as const, 'end' as const),
      }),
      { maxLength: 14 },
    ),
  )
  .map(([durations, links]) => {
    const activities = durations.map((duration, i) => act(`t${(i * 3) % 8}${i}`, duration));
    const precedences = links
      .filter(({ a, b }) => a < b && b < activities.length)
      .map(({ a, b, lag, since }): Precedence => ({
        from: activities[a]!.id,
        to: activities[b]!.id,
        lag,
        since,
      }));
    return { activities, precedences };
  });

/** Bellman-Ford on the starts, with release times. */
function relax(
  activities: readonly Activity[],
  precedences: readonly Precedence[],
  release: Record<string, number> = {},
) {
  const duration = Object.fromEntries(activities.map(({ id, duration: length }) => [id, length]));
  const earliest = Object.fromEntries(activities.map(({ id }) => [id, Math.max(0, release[id] ?? 0)]));
  for (let moved = true; moved;) {
    moved = false;
    for (const { from, to, lag, since } of precedences) {
      const start = earliest[from]! + (since === 'start' ? 0 : duration[from]!) + (lag ?? 0);
      if (start <= earliest[to]!) continue;
      earliest[to] = start;
      moved = true;
    }
  }
  return { earliest, makespan: Math.max(...activities.map(({ id }) => earliest[id]! + duration[id]!)) };
}

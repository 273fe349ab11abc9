import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EventRef } from '../../src/algorithms/concurrent-program.js';
import { explore } from '../../src/algorithms/interleavings.js';
import { seededRandom } from '../../src/base/random.js';
import { act, randomPrograms, send, wait } from './small-programs.js';

const limit = 1_000_000;

describe('explore with unseen events', () => {
  it('passes over the states in which one could happen', () => {
    const long = Array.from({ length: 30 }, () => act());
    const programs = [[...long, act('seen'), ...long], [...long, act('seen'), ...long], long];
    const unseen = ({ event }: EventRef): boolean => event !== 30;
    expect(explore(programs, { limit, unseen })).toEqual({ states: 4, verdict: 'ok' });
  });

  it('finds what can be seen and every deadlock that the full exploration finds, and nothing else', () => {
    const found = { ok: 0, deadlock: 0, violated: 0, fewer: 0 };
    const shape = fc.record({
      programs: fc.integer({ min: 2, max: 4 }),
      signals: fc.integer({ min: 0, max: 4 }),
      acts: fc.integer({ min: 2, max: 8 }),
    });
    fc.assert(
      fc.property(fc.integer(), shape, (seed, size) => {
        const programs = randomPrograms(seed, size);
        const random = seededRandom(seed);
        // Some acts are seen: what is between two of them is a place, and some places of two programs exclude each other.
        const seen = programs.map((events) => events.map(({ kind }) => kind === 'do' && random() < 0.6));
        const places = seen.map((own) =>
          own.reduce((all, one) => [...all, all.at(-1)! + (one ? 1 : 0)], [0]),
        );
        const excluded = new Set(
          Array.from({ length: 3 }, () =>
            [0, 1].map((i) => Math.floor(random() * (places[i]!.at(-1)! + 1))).join(),
          ),
        );
        const invariant = (positions: ArrayLike<number>): string | undefined => {
          const both = `${places[0]![positions[0]!]},${places[1]![positions[1]!]}`;
          return both !== '0,0' && excluded.has(both) ? 'both' : undefined;
        };
        const full = explore(programs, { limit, invariant });
        const reduced = explore(programs, {
          ...{ limit, invariant },
          unseen: ({ program, event }) => !seen[program]![event]!,
        });
        // A run that is wrong in two ways may end at either.
        const withoutInvariant = explore(programs, { limit }).verdict;
        if (full.verdict === 'ok' || withoutInvariant === 'ok') expect(reduced.verdict).toBe(full.verdict);
        else expect(reduced.verdict).not.toBe('ok');
        expect(reduced.states).toBeLessThanOrEqual(full.verdict === 'ok' ? full.states : Infinity);
        if (full.verdict === 'ok' && reduced.states < full.states) found.fewer += 1;
        found[full.verdict as 'ok'] += 1;
        if (reduced.trace) expectRun(programs, reduced.trace);
      }),
      { seed: 7, numRuns: 500 },
    );
    for (const count of Object.values(found)) expect(count).toBeGreaterThan(20);
  });

  it('asks for signals that are used once', () => {
    const unseen = (): boolean => true;
    expect(() => explore([[send('x'), send('x')], [wait('x')]], { limit, unseen })).toThrow(RangeError);
  });
});

/** A trace is a run: each program in its order, each wait after its signal. */
function expectRun(programs: ReturnType<typeof randomPrograms>, trace: readonly EventRef[]): void {
  const next = programs.map(() => 0);
  const sent = new Set<string>();
  for (const { program, event } of trace) {
    expect(next[program]).toBe(event);
    next[program]! += 1;
    const one = programs[program]![event]!;
    if (one.kind === 'await') expect(sent).toContain(one.signal);
    if (one.kind === 'send') sent.add(one.signal);
  }
}

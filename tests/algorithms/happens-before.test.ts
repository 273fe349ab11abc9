import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EventRef, Program } from '../../src/algorithms/concurrent-program.js';
import { happensBefore, type HappensBefore } from '../../src/algorithms/happens-before.js';
import { explore } from '../../src/algorithms/interleavings.js';
import { act, randomPrograms, send, wait } from './small-programs.js';

const at = (program: number, event: number): EventRef => ({ program, event });

const eventsOf = (programs: readonly Program[]): EventRef[] =>
  programs.flatMap((events, program) => events.map((_, event) => at(program, event)));

const isPast = (event: EventRef, of: readonly EventRef[], { before }: HappensBefore): boolean =>
  of.some((one) => (one.program === event.program && one.event === event.event) || before(event, one));

const shapes = fc.record({
  programs: fc.integer({ min: 1, max: 4 }),
  signals: fc.integer({ min: 0, max: 5 }),
  acts: fc.integer({ min: 0, max: 5 }),
});

describe('happensBefore', () => {
  it('carries an order through a chain of signals', () => {
    const found = happensBefore([
      [act(), send('x'), act()],
      [wait('x'), send('y')],
      [act(), wait('y')],
    ]);
    if (!found.ok) throw new Error('refused');
    const { before } = found.value;
    expect(before(at(0, 0), at(2, 1))).toBe(true);
    expect(before(at(0, 0), at(2, 0))).toBe(false);
    expect(before(at(0, 2), at(1, 0))).toBe(false);
    expect(before(at(1, 0), at(1, 0))).toBe(false);
  });

  it('names a signal that is not used exactly once', () => {
    expect(happensBefore([[send('x'), send('x')], [wait('x')]])).toEqual({
      ok: false,
      error: { kind: 'signal', signal: 'x', sends: 2, awaits: 1 },
    });
    expect(happensBefore([[wait('x')]])).toMatchObject({ error: { sends: 0, awaits: 1 } });
  });

  it('names the awaits of a circle and leaves out who merely waits for it', () => {
    const found = happensBefore([
      [wait('c'), act()],
      [wait('b'), send('a'), send('c')],
      [act(), wait('a'), send('b')],
    ]);
    expect(found).toEqual({
      ok: false,
      error: { kind: 'cycle', awaits: [at(1, 0), at(2, 1)], positions: [0, 0, 1] },
    });
    expect(happensBefore([[wait('a'), send('a')]])).toMatchObject({
      error: { kind: 'cycle', awaits: [at(0, 0)] },
    });
  });

  it('agrees with every interleaving: a is before b exactly when no reachable state has b without a', () => {
    let orders = 0;
    let deadlocks = 0;
    fc.assert(
      fc.property(fc.integer(), shapes, (seed, shape) => {
        const programs = randomPrograms(seed, shape);
        const events = eventsOf(programs);
        const broken = new Set<string>();
        const reached = new Set<string>();
        const invariant = (positions: ArrayLike<number>): undefined => {
          reached.add(Array.from(positions).join());
          const isDone = (e: EventRef) => positions[e.program]! > e.event;
          events.forEach((a, i) =>
            events.forEach((b, j) => {
              if (isDone(b) && !isDone(a)) broken.add(`${i} ${j}`);
            }),
          );
        };
        const { verdict } = explore(programs, { invariant, limit: 1e6 });
        const found = happensBefore(programs);
        expect(found.ok).toBe(verdict === 'ok');
        if (!found.ok) {
          expect([verdict, found.error.kind]).toEqual(['deadlock', 'cycle']);
          deadlocks += 1;
          return;
        }
        events.forEach((a, i) =>
          events.forEach((b, j) => {
            if (i === j) return;
            const claimed = found.value.before(a, b);
            expect(claimed).toBe(!broken.has(`${i} ${j}`));
            if (claimed && a.program !== b.program) orders += 1;
            // The past of two events is a state that is reached, with both done and nothing that need not be.
            const past = found.value.past([a, b]);
            expect(reached).toContain(past.join());
            expect(past[a.program]).toBeGreaterThan(a.event);
            expect(past.every((done, p) => done === 0 || isPast(at(p, done - 1), [a, b], found.value))).toBe(
              true,
            );
          }),
        );
      }),
      { seed: 7, numRuns: 400 },
    );
    expect(orders).toBeGreaterThan(100);
    expect(deadlocks).toBeGreaterThan(10);
  });

  it('is the transitive closure of program order and signals', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const programs = randomPrograms(seed, { programs: 6, signals: 8, acts: 10 });
        const found = happensBefore(programs);
        if (!found.ok) return;
        const events = eventsOf(programs);
        const direct = events.map((a) =>
          events.map((b) => {
            const [from, to] = [programs[a.program]![a.event]!, programs[b.program]![b.event]!];
            const next = a.program === b.program && b.event === a.event + 1;
            return next || (from.kind === 'send' && to.kind === 'await' && from.signal === to.signal);
          }),
        );
        for (let k = 0; k < events.length; k += 1)
          for (const row of direct)
            if (row[k]!) row.forEach((known, j) => (row[j] = known || direct[k]![j]!));
        events.forEach((a, i) =>
          events.forEach((b, j) => expect(found.value.before(a, b)).toBe(direct[i]![j])),
        );
      }),
      { seed: 7, numRuns: 200 },
    );
  });
});

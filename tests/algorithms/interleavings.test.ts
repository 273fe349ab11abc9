import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { explore } from '../../src/algorithms/interleavings.js';
import type { EventRef, Program } from '../../src/algorithms/concurrent-program.js';
import { act, randomPrograms, send, wait } from './small-programs.js';

const at = (program: number, event: number): EventRef => ({ program, event });
const limit = 100_000;

describe('explore', () => {
  it('counts the states of independent programs: the product of their positions', () => {
    const programs = [[act(), act()], [act(), act(), act()], [act()]];
    expect(explore(programs, { limit })).toEqual({ states: 3 * 4 * 2, verdict: 'ok' });
    expect(explore([], { limit })).toEqual({ states: 1, verdict: 'ok' });
  });

  it('lets a signal hold back what awaits it', () => {
    expect(explore([[send('go'), act()], [wait('go')]], { limit })).toEqual({ states: 5, verdict: 'ok' });
  });

  it('finds a deadlock by the shortest run', () => {
    const programs = [
      [act(), wait('b'), send('a')],
      [wait('a'), send('b')],
    ];
    expect(explore(programs, { limit })).toEqual({
      states: 2,
      verdict: 'deadlock',
      problem: 'program 0 waits for signal "b"; program 1 waits for signal "a"',
      trace: [at(0, 0)],
    });
  });

  it('finds the shortest run that breaks an invariant', () => {
    const programs = [
      [act(), act('enter'), act('leave')],
      [act('enter'), act('leave')],
    ];
    const invariant = (p: ArrayLike<number>) => (p[0] === 2 && p[1] === 1 ? 'both are inside' : undefined);
    const found = explore(programs, { invariant, limit });
    expect(found).toMatchObject({ verdict: 'violated', problem: 'both are inside' });
    expect(found.trace).toEqual([at(0, 0), at(0, 1), at(1, 0)]);
  });

  it('keeps two programs apart when a handshake orders them', () => {
    const programs = [
      [act('enter'), act('leave'), send('free')],
      [wait('free'), act('enter'), act('leave')],
    ];
    const invariant = (p: ArrayLike<number>) => (p[0] === 1 && p[1] === 2 ? 'both are inside' : undefined);
    expect(explore(programs, { invariant, limit }).verdict).toBe('ok');
    const careless = [[act('enter'), send('free'), act('leave')], programs[1]!];
    expect(
      explore(careless, { invariant: (p) => (p[0] === 2 && p[1] === 2 ? 'both' : undefined), limit }).verdict,
    ).toBe('violated');
  });

  it.each<[string, Program[], string]>([
    ['sent twice by one program', [[send('x'), send('x')], [wait('x')]], 'is sent a second time'],
    ['sent by two programs', [[send('x')], [send('x')], [wait('x')]], 'is sent a second time'],
    [
      'sent again after it was consumed',
      [
        [send('x'), wait('y'), send('x')],
        [wait('x'), send('y')],
      ],
      'second time',
    ],
    ['never consumed', [[send('x')], [act()]], 'is sent and never consumed'],
  ])('reports a signal that is %s', (_, programs, problem) => {
    const found = explore(programs, { limit });
    expect(found.verdict).toBe('signal-fault');
    expect(found.problem).toContain(problem);
    expect(found.trace).toBeDefined();
  });

  it.each<[string, Program[]]>([
    ['awaited twice', [[send('x')], [wait('x')], [wait('x')]]],
    ['never sent', [[wait('x')]]],
  ])('finds the deadlock of a signal that is %s', (_, programs) => {
    expect(explore(programs, { limit }).verdict).toBe('deadlock');
  });

  it('stops at the limit and proves nothing', () => {
    const long = Array.from({ length: 100 }, () => act());
    const found = explore([long, long, long], { limit: 1000 });
    expect(found.verdict).toBe('limit');
    expect(found.trace).toBeUndefined();
  });

  it('packs nothing when positions are too many for one number, with the same result', () => {
    const links = Array.from({ length: 16 }, (_, i) => [
      ...(i === 0 ? [] : [wait(`s${i - 1}`)]),
      ...Array.from({ length: 9 }, () => act()),
      ...(i === 15 ? [] : [send(`s${i}`)]),
    ]);
    const events = links.reduce((sum, program) => sum + program.length, 0);
    expect(explore(links, { limit })).toEqual({ states: events + 1, verdict: 'ok' });
  });

  it('agrees with running every interleaving one by one', () => {
    const shapes = fc.record({
      programs: fc.integer({ min: 1, max: 3 }),
      signals: fc.integer({ min: 0, max: 3 }),
      acts: fc.integer({ min: 0, max: 3 }),
    });
    fc.assert(
      fc.property(fc.integer(), shapes, (seed, shape) => {
        const programs = randomPrograms(seed, shape);
        const found = explore(programs, { limit });
        const shortest = shortestDeadlock(programs);
        expect(found.verdict).toBe(shortest === undefined ? 'ok' : 'deadlock');
        expect(found.trace?.length).toBe(shortest);
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});

/** Length of the shortest run after which nothing can go on although something is left; by plain recursion. */
function shortestDeadlock(programs: readonly Program[]): number | undefined {
  const run = (positions: number[], marked: ReadonlySet<string>, length: number): number => {
    let shortest = Infinity;
    let moved = false;
    programs.forEach((events, i) => {
      const event = events[positions[i]!];
      if (event === undefined || (event.kind === 'await' && !marked.has(event.signal))) return;
      moved = true;
      const marks = new Set(marked);
      if (event.kind === 'send') marks.add(event.signal);
      if (event.kind === 'await') marks.delete(event.signal);
      const next = positions.map((position, j) => (i === j ? position + 1 : position));
      shortest = Math.min(shortest, run(next, marks, length + 1));
    });
    const finished = programs.every((events, i) => events.length === positions[i]);
    return moved || finished ? shortest : length;
  };
  const shortest = run(
    programs.map(() => 0),
    new Set(),
    0,
  );
  return Number.isFinite(shortest) ? shortest : undefined;
}

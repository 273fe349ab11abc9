import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Program } from '../../src/algorithms/concurrent-program.js';
import { ConsistentCuts } from '../../src/algorithms/consistent-cuts.js';
import { happensBefore } from '../../src/algorithms/happens-before.js';
import { explore } from '../../src/algorithms/interleavings.js';
import { randomPrograms } from './small-programs.js';

/** Positions that a run can come to, by exploring all of them; undefined for programs that block. */
function reachable(programs: readonly Program[]): Set<string> | undefined {
  const seen = new Set<string>();
  const invariant = (positions: ArrayLike<number>): undefined => void seen.add(Array.from(positions).join());
  return explore(programs, { invariant, limit: 1e6 }).verdict === 'ok' ? seen : undefined;
}

function cutsOf(programs: readonly Program[]): { cuts: ConsistentCuts; given: Set<string> } | undefined {
  const order = happensBefore(programs);
  if (!order.ok) return undefined;
  const cuts = new ConsistentCuts(programs, order.value);
  const given = new Set<string>();
  cuts.each((positions) => given.add(positions.join()));
  return { cuts, given };
}

describe('consistent cuts', () => {
  it('of two programs are the positions that exploring every interleaving comes to', () => {
    let compared = 0;
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const programs = randomPrograms(seed, { programs: 2, signals: 4, acts: 6 });
        const [found, wanted] = [cutsOf(programs), reachable(programs)];
        if (!found || !wanted) return;
        expect([...found.given].sort()).toEqual([...wanted].sort());
        compared += 1;
      }),
      { seed: 7, numRuns: 600 },
    );
    expect(compared).toBeGreaterThan(100);
  });

  it('of three programs are reached, and leave out no pair of positions that is', () => {
    let compared = 0;
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const programs = randomPrograms(seed, { programs: 3, signals: 4, acts: 6 });
        const [found, wanted] = [cutsOf(programs), reachable(programs)];
        if (!found || !wanted) return;
        for (const positions of found.given) expect(wanted).toContain(positions);
        const pairs = (states: Set<string>): Set<string> =>
          new Set(
            [...states].flatMap((state) => {
              const [a, b, c] = state.split(',');
              return [`0 ${a} 1 ${b}`, `0 ${a} 2 ${c}`, `1 ${b} 2 ${c}`];
            }),
          );
        expect([...pairs(found.given)].sort()).toEqual([...pairs(wanted)].sort());
        compared += 1;
      }),
      { seed: 7, numRuns: 200 },
    );
    expect(compared).toBeGreaterThan(50);
  });

  it('go as far behind and as far ahead as any run', () => {
    const wait: Program = [
      { kind: 'await', signal: 'a' },
      { kind: 'do', label: 'x' },
    ];
    const send: Program = [
      { kind: 'do', label: 'y' },
      { kind: 'send', signal: 'a' },
      { kind: 'do', label: 'z' },
    ];
    const { cuts } = cutsOf([wait, send])!;
    expect(cuts.behind(0, 1)).toEqual([1, 2]);
    expect(cuts.ahead(1, 1)).toEqual([0, 1]);
    expect(cuts.ahead(1, 2)).toEqual([2, 2]);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Program } from '../../src/algorithms/concurrent-program.js';
import { FOUR_PHASE_PROTOCOL, fourPhasePrograms } from '../../src/algorithms/four-phase-programs.js';
import {
  FOUR_PHASES,
  observe,
  restarted,
  timedOut,
  wiresText,
  type FourPhase,
  type FourPhaseOutcome,
} from '../../src/algorithms/four-phase.js';
import { happensBefore } from '../../src/algorithms/happens-before.js';
import { explore } from '../../src/algorithms/interleavings.js';
import { act, randomPrograms, send, wait } from './small-programs.js';

const phase = (name: FourPhase): FourPhaseOutcome => ({ kind: 'phase', phase: name });
const fault = (name: Extract<FourPhaseOutcome, { kind: 'fault' }>['fault']): FourPhaseOutcome => ({
  kind: 'fault',
  fault: name,
});

/** Textbook (check-values section 7): (request, acknowledge) 00 -> 10 -> 11 -> 01 -> 00, all else is a fault. */
const TEXTBOOK: readonly (readonly [FourPhase, string, FourPhaseOutcome])[] = [
  ['idle', '00', phase('idle')],
  ['idle', '10', phase('requested')],
  ['idle', '01', fault('acknowledge-without-request')],
  ['idle', '11', fault('phase-skipped')],
  ['requested', '10', phase('requested')],
  ['requested', '11', phase('acknowledged')],
  ['requested', '00', fault('request-dropped-early')],
  ['requested', '01', fault('request-dropped-early')],
  ['acknowledged', '11', phase('acknowledged')],
  ['acknowledged', '01', phase('released')],
  ['acknowledged', '10', fault('acknowledge-dropped-early')],
  ['acknowledged', '00', fault('phase-skipped')],
  ['released', '01', phase('released')],
  ['released', '00', phase('idle')],
  ['released', '10', fault('request-raised-early')],
  ['released', '11', fault('request-raised-early')],
];

describe('the four-phase handshake', () => {
  it('has the textbook phases in their order', () => {
    expect(FOUR_PHASES.map(({ wires }) => wiresText(wires))).toEqual(['00', '10', '11', '01']);
  });

  it.each(TEXTBOOK)('%s, seen %s', (from, seen, outcome) => {
    expect(observe(from, { request: seen[0] === '1', acknowledge: seen[1] === '1' })).toEqual(outcome);
  });

  it('names what is late in each phase, and a restart in the midst', () => {
    const phases = FOUR_PHASES.map((one) => one.phase);
    expect(phases.map(timedOut)).toEqual([
      fault('no-request'),
      fault('no-acknowledge'),
      fault('request-stuck'),
      fault('acknowledge-stuck'),
    ]);
    expect(phases.map(restarted)).toEqual([
      phase('idle'),
      ...Array<FourPhaseOutcome>(3).fill(fault('restart-in-mid-phase')),
    ]);
  });

  it('tells how the phases go with the steps', () => {
    expect(FOUR_PHASE_PROTOCOL.map((line) => /\d\d -> \d\d/.exec(line)![0])).toEqual([
      '00 -> 10',
      '10 -> 11',
      '11 -> 01',
      '01 -> 00',
    ]);
  });
});

describe('fourPhasePrograms', () => {
  const limit = 200_000;

  it('walks the phases of the table in every run', () => {
    const programs = [
      [send('a'), act(), wait('b'), send('c')],
      [wait('a'), send('b'), wait('c')],
    ];
    const phased = fourPhasePrograms(programs, [['a', 'c'], ['b']]);
    const moves = ['request on', 'acknowledge on', 'request off', 'acknowledge off'];
    const seen = new Set<string>();
    const invariant = (at: ArrayLike<number>): string | undefined => {
      const done = phased.programs.flatMap((events, p) => events.slice(0, at[p]!));
      const [raised, acknowledged, dropped, released] = moves.map((move) =>
        done.reduce((sum, one) => {
          const mark = one.kind === 'do' ? one.label : one.signal;
          const ours = one.kind !== 'await' && ['a', 'c'].some((id) => mark === JSON.stringify([id, move]));
          return sum + (ours ? 1 : 0);
        }, 0),
      ) as [number, number, number, number];
      seen.add(`${raised - dropped}${acknowledged - released}`);
      const inOrder = raised >= acknowledged && acknowledged >= dropped && dropped >= released;
      return inOrder && raised <= released + 1 ? undefined : 'out of order';
    };
    expect(explore(phased.programs, { limit, invariant }).verdict).toBe('ok');
    expect([...seen].sort()).toEqual(['00', '01', '10', '11']);
  });

  it('blocks exactly where single-use handshakes do, if lines are used again only when they are free', () => {
    let shared = 0;
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const programs = randomPrograms(seed, { programs: 2, signals: 4, acts: 2 });
        const order = happensBefore(programs);
        const lines = order.ok ? sharedLines(programs, order.value) : singleLines(programs);
        if (lines.some(({ length }) => length > 1)) shared += 1;
        const phased = fourPhasePrograms(programs, lines);
        expect(happensBefore(phased.programs).ok).toBe(order.ok);
        expect(explore(phased.programs, { limit }).verdict).toBe(order.ok ? 'ok' : 'deadlock');
      }),
      { seed: 7, numRuns: 250 },
    );
    expect(shared).toBeGreaterThan(0);
  });

  it('gives the events done of the programs given', () => {
    const { given } = fourPhasePrograms(
      [
        [send('a'), act(), send('c')],
        [wait('a'), wait('c')],
      ],
      [['a', 'c']],
    );
    expect(given.map((map) => [...map])).toEqual([
      [0, 1, 2, 2, 3],
      [0, 0, 1, 1, 2],
    ]);
  });
});

const crossing = (
  programs: readonly Program[],
): readonly { id: string; from: number; to: number; at: number }[] =>
  programs.flatMap((events, from) =>
    events.flatMap((event, at) => {
      if (event.kind !== 'send') return [];
      const to = programs.findIndex((own) =>
        own.some((one) => one.kind === 'await' && one.signal === event.signal),
      );
      return [{ id: event.signal, from, to, at }];
    }),
  );

const singleLines = (programs: readonly Program[]): string[][] => crossing(programs).map(({ id }) => [id]);

/** Lines that take the next signal whenever the last one on them is surely consumed. */
function sharedLines(
  programs: readonly Program[],
  order: Extract<ReturnType<typeof happensBefore>, { ok: true }>['value'],
): string[][] {
  const lines: { from: number; to: number; ids: string[] }[] = [];
  for (const { id, from, to, at } of crossing(programs)) {
    const free = lines.find((line) => {
      if (line.from !== from || line.to !== to) return false;
      const last = line.ids.at(-1)!;
      const event = programs[to]!.findIndex((one) => one.kind === 'await' && one.signal === last);
      return order.before({ program: to, event }, { program: from, event: at });
    });
    if (free) free.ids.push(id);
    else lines.push({ from, to, ids: [id] });
  }
  return lines.map(({ ids }) => ids);
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Program } from '../../src/algorithms/concurrent-program.js';
import { explore } from '../../src/algorithms/interleavings.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { programsPnml } from '../../src/report/pnml.js';
import { barePlan } from '../support/bare-plan.js';
import { markingGraph, readNet } from '../support/marking-graph.js';

/** Where two programs of a few steps each exchange a signal: two robots and, of each, a slot between its steps. */
const exchange = fc
  .record({
    robots: fc.shuffledSubarray([0, 1, 2], { minLength: 2, maxLength: 2 }),
    slots: fc.tuple(fc.nat(3), fc.nat(3)),
  })
  .map(({ robots: [from, to], slots: [sent, awaited] }) => ({ from: from!, to: to!, sent, awaited }));

type Exchange = typeof exchange extends fc.Arbitrary<infer T> ? T : never;

/** Three programs of four slots, each with a step of its own after the signals and waits in it. */
function programsOf(exchanges: readonly Exchange[]): GeometricPlan['programs'] {
  return [0, 1, 2].map((robot) => {
    const bare = [0, 1, 2, 3].flatMap((slot) => [
      ...exchanges.flatMap(({ from, to, sent, awaited }, i) => [
        ...(from === robot && sent === slot ? [{ do: 'signal', handshake: `H${i}` }] : []),
        ...(to === robot && awaited === slot ? [{ do: 'await', handshake: `H${i}` }] : []),
      ]),
      { do: 'hold', part: `p${slot}` },
    ]);
    const steps = bare.map((step, i) => ({ ...step, n: i + 1, stage: 1, start: i, end: i + 1 }) as Step);
    return { robot: `r${robot}`, duty: 'handle' as const, steps };
  });
}

const events = ({ steps }: GeometricPlan['programs'][number]): Program =>
  steps.map((step) => {
    if (step.do === 'signal') return { kind: 'send', signal: step.handshake };
    return step.do === 'await' ? { kind: 'await', signal: step.handshake } : { kind: 'do', label: '' };
  });

describe('the net of random programs', () => {
  it('stops short exactly where exploring the programs finds a deadlock, with as many markings as states else', () => {
    let [ended, stopped] = [0, 0];
    fc.assert(
      fc.property(fc.array(exchange, { maxLength: 8 }), (exchanges) => {
        const programs = programsOf(exchanges);
        const { verdict, states } = explore(programs.map(events), { limit: 100_000 });
        const graph = markingGraph(readNet(programsPnml({ ...barePlan(), programs })));
        const last = programs.map(({ steps }, i) => `r${i + 1}-p${steps.length}`);
        const complete = graph.ends.length === 1 && last.every((place) => graph.ends[0]!.includes(place));
        expect(graph.bound).toBe(1);
        expect(complete ? 'ok' : 'deadlock').toBe(verdict);
        if (complete) {
          expect(graph).toMatchObject({ markings: states, dead: [] });
          expect(graph.ends[0]).toHaveLength(last.length);
          ended += 1;
        } else stopped += 1;
      }),
      { seed: 5, numRuns: 150 },
    );
    expect(Math.min(ended, stopped)).toBeGreaterThan(5);
  });
});

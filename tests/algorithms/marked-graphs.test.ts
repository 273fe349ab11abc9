import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { happensBefore } from '../../src/algorithms/happens-before.js';
import { explore } from '../../src/algorithms/interleavings.js';
import { circuits, fired, markedGraphOf, randomMarkedGraph } from './marked-graph.js';
import { randomPrograms } from './small-programs.js';

/** Commoner, Holt, Even, Pnueli 1971: live exactly if every circuit has a token; then safe exactly if each place is on one with a single token. */
describe('marked graphs by their circuits', () => {
  it('are live and safe as firing shows', () => {
    const counts = { live: 0, dead: 0, safe: 0, unsafe: 0 };
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 2, max: 6 }),
        fc.integer({ min: 0, max: 4 }),
        (seed, n, more) => {
          const graph = randomMarkedGraph(seed, n, more);
          const all = circuits(graph);
          const tokens = (circuit: readonly number[]): number =>
            circuit.reduce((sum, place) => sum + graph.places[place]!.tokens, 0);
          const live = all.every((circuit) => tokens(circuit) > 0);
          const shown = fired(graph, 5000);
          expect(live).toBe(shown.live);
          counts[live ? 'live' : 'dead'] += 1;
          if (!live) return;
          const bounds = graph.places.map((_, place) =>
            Math.min(...all.filter((circuit) => circuit.includes(place)).map(tokens)),
          );
          expect(Math.max(...bounds)).toBe(shown.tokens);
          counts[shown.tokens === 1 ? 'safe' : 'unsafe'] += 1;
        },
      ),
      { seed: 7, numRuns: 400 },
    );
    for (const count of Object.values(counts)) expect(count).toBeGreaterThan(10);
  });

  it('of programs: live exactly where no interleaving blocks, and then safe', () => {
    const counts = { live: 0, dead: 0 };
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const programs = randomPrograms(seed, { programs: 3, signals: 4, acts: 4 });
        if (programs.some(({ length }) => length === 0)) return;
        const graph = markedGraphOf(programs);
        const all = circuits(graph);
        const tokens = all.map((circuit) => circuit.reduce((sum, p) => sum + graph.places[p]!.tokens, 0));
        const live = tokens.every((sum) => sum > 0);
        expect(explore(programs, { limit: 100_000 }).verdict).toBe(live ? 'ok' : 'deadlock');
        expect(happensBefore(programs).ok).toBe(live);
        counts[live ? 'live' : 'dead'] += 1;
        if (!live) return;
        graph.places.forEach((_, place) =>
          expect(all.some((circuit, i) => circuit.includes(place) && tokens[i] === 1)).toBe(true),
        );
      }),
      { seed: 7, numRuns: 200 },
    );
    for (const count of Object.values(counts)) expect(count).toBeGreaterThan(10);
  });
});

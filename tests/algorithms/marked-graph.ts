import type { Program } from '../../src/algorithms/concurrent-program.js';
import { seededRandom } from '../../src/base/random.js';

/** Transitions tied by places, each with one transition before and one after it, and tokens at the start. */
export interface MarkedGraph {
  readonly transitions: number;
  readonly places: readonly { readonly from: number; readonly to: number; readonly tokens: number }[];
}

/** A random strongly connected marked graph: a ring of all transitions with some places more. */
export function randomMarkedGraph(seed: number, transitions: number, more: number): MarkedGraph {
  const random = seededRandom(seed);
  const pick = (n: number): number => Math.floor(random() * n);
  const tokens = (): number => (random() < 0.4 ? 1 : 0);
  const ring = Array.from({ length: transitions }, (_, i) => ({
    from: i,
    to: (i + 1) % transitions,
    tokens: tokens(),
  }));
  const rest = Array.from({ length: more }, () => ({
    from: pick(transitions),
    to: pick(transitions),
    tokens: tokens(),
  }));
  return { transitions, places: [...ring, ...rest] };
}

/**
 * Programs as a marked graph that runs again and again: events in their order, each signal a place from its send to its
 * await, and from the end of everything back to the start of each program a place with a token.
 */
export function markedGraphOf(programs: readonly Program[]): MarkedGraph {
  const offsets = programs.map((_, i) => programs.slice(0, i).reduce((sum, { length }) => sum + length, 0));
  const count = programs.reduce((sum, { length }) => sum + length, 0);
  const places = programs.flatMap((events, p) =>
    events.flatMap((event, e) => {
      const here = offsets[p]! + e;
      const order =
        e > 0 ? [{ from: here - 1, to: here, tokens: 0 }] : [{ from: count, to: here, tokens: 1 }];
      const end = e === events.length - 1 ? [{ from: here, to: count, tokens: 0 }] : [];
      if (event.kind !== 'send') return [...order, ...end];
      const other = programs.findIndex((own) =>
        own.some((one) => one.kind === 'await' && one.signal === event.signal),
      );
      const at = programs[other]!.findIndex((one) => one.kind === 'await' && one.signal === event.signal);
      return [...order, ...end, { from: here, to: offsets[other]! + at, tokens: 0 }];
    }),
  );
  return { transitions: count + 1, places };
}

/** The places of every elementary circuit, by walking on from its least transition. */
export function circuits({ transitions, places }: MarkedGraph): number[][] {
  const found: number[][] = [];
  const walk = (start: number, at: number, seen: readonly number[], path: readonly number[]): void => {
    places.forEach(({ from, to }, place) => {
      if (from !== at || to < start) return;
      if (to === start) found.push([...path, place]);
      else if (!seen.includes(to)) walk(start, to, [...seen, to], [...path, place]);
    });
  };
  for (let start = 0; start < transitions; start += 1) walk(start, start, [start], []);
  return found;
}

/** What firing shows, all markings reached: whether every transition can fire again and again, and the most tokens on a place. */
export function fired({ transitions, places }: MarkedGraph, most: number): { live: boolean; tokens: number } {
  const first = places.map(({ tokens }) => tokens);
  const markings = new Map([[first.join(), first]]);
  const next = new Map<string, string[]>();
  let tokens = Math.max(...first);
  for (const [key, marking] of markings) {
    if (markings.size > most) throw new Error('too many markings');
    const after: string[] = [];
    for (let t = 0; t < transitions; t += 1) {
      if (places.some(({ to }, p) => to === t && marking[p] === 0)) continue;
      const then = marking.map((n, p) => n - (places[p]!.to === t ? 1 : 0) + (places[p]!.from === t ? 1 : 0));
      tokens = Math.max(tokens, ...then);
      if (!markings.has(then.join())) markings.set(then.join(), then);
      after.push(then.join());
    }
    next.set(key, after);
  }
  // In a marked graph that is strongly connected a transition that fires again and again takes all others along.
  return { live: [...next.values()].every(({ length }) => length > 0), tokens };
}

/** A source of uniform numbers in [0, 1), the only kind of randomness the core may use. */
export type Random = () => number;

/**
 * Seeded generator (mulberry32, a public-domain 32-bit mixer): the same seed gives the same sequence on
 * every machine.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cover } from '../../src/algorithms/covering.js';
import type { TackWish } from '../../src/model/wish.js';
import { isNear } from '../../src/rules/wish-kept.js';
import { fewestTacks, seamChoices, type SeamCover } from '../../src/planning/seam-row.js';
import { siteMiddle, withWished } from '../../src/planning/tack-ask.js';
import { coveredSeam, type SeamWish } from './covered-seams.js';
import { wish } from './wish-samples.js';

/** A seam whose sites know where they are in the weldment. */
function placedSeam(like: SeamWish): SeamCover {
  const seam = coveredSeam(like);
  const { from, to } = seam.run;
  return { ...seam, sites: seam.sites.map((site) => ({ ...site, seam: { from, to } as never })) };
}

const BOTH = { length: 120, tack: 40, pitch: 120 };
/** The two sides of an upright plate of 10 mm, at y of -5 and 5; the second runs the other way. */
const twoSided = (like: SeamWish = BOTH): readonly SeamCover[] => [
  placedSeam(like),
  placedSeam({ ...like, back: true }),
];

const near = (x: number, y: number, within: number): TackWish =>
  wish({ tack: ['p', 'q'], near: [x, y, 0], within }) as TackWish;

/** Every sharing out of wishes among seams that leaves each a cover: the fewest tacks of all; undefined where there is none. */
function byEnumeration(seams: readonly SeamCover[], wishes: readonly TackWish[]): number | undefined {
  const totals = Array.from({ length: seams.length ** wishes.length }, (_, code) => {
    const on = wishes.map((__, k) => Math.floor(code / seams.length ** k) % seams.length);
    const counts = seams.map((seam, s) => {
      const must = wishes.flatMap((one, k) =>
        on[k] === s ? [seam.sites.flatMap((site, i) => (isNear(one, siteMiddle(site)) ? [i] : []))] : [],
      );
      if (must.some((set) => set.length === 0)) return undefined;
      return fewestTacks({ ...seam, must })?.length;
    });
    return counts.every((count) => count !== undefined) ? counts.reduce((a, b) => a + b, 0) : undefined;
  }).filter((total) => total !== undefined);
  return totals.length === 0 ? undefined : Math.min(...totals);
}

const tacksOf = (seams: readonly SeamCover[]): number =>
  seams.reduce((sum, seam) => sum + fewestTacks(seam)!.length, 0);

describe('wishes for tacks of one joint', () => {
  // On the front only one of the two has room, and the first would be at home there as well as on the back.
  const either = near(30, 0, 7);
  const front = near(50, -5, 2);

  it('are kept on two seams where the one that comes first leaves the other no room on the same', () => {
    for (const wishes of [
      [either, front],
      [front, either],
    ]) {
      const shared = withWished(twoSided(), wishes);
      if (!shared.ok) throw new Error(JSON.stringify(shared.error));
      expect(shared.value.map(({ must }) => must?.length)).toEqual([1, 1]);
    }
  });

  it('that no sharing out keeps name the first that those before it leave no room', () => {
    const back = near(50, 5, 2);
    expect(withWished(twoSided(), [either, front, back])).toEqual({
      ok: false,
      error: { code: 'wish', subjects: ['p', 'q'] },
    });
    expect(withWished(twoSided(), [near(300, 0, 10)])).toMatchObject({
      ok: false,
      error: { value: Math.hypot(210, 5), limit: 10, unit: 'mm' },
    });
  });

  it('are refused exactly where no sharing out keeps all, and take the fewest tacks that any does', () => {
    const seen = { kept: 0, refused: 0 };
    const someWish = fc
      .tuple(fc.integer({ min: 0, max: 12 }), fc.constantFrom(-5, 0, 5), fc.constantFrom(4, 8, 15, 40))
      .map(([x, y, within]) => near(10 * x, y, within));
    fc.assert(
      fc.property(
        fc.array(someWish, { minLength: 1, maxLength: 5 }),
        fc.constantFrom(70, 90, 120),
        fc.constantFrom(30, 40),
        (wishes, length, tack) => {
          const seams = twoSided({ length, tack, pitch: 100 });
          const least = byEnumeration(seams, wishes);
          const shared = withWished(seams, wishes);
          expect(shared.ok ? tacksOf(shared.value) : undefined).toBe(least);
          seen[shared.ok ? 'kept' : 'refused'] += 1;
        },
      ),
      { numRuns: 300, seed: 3, endOnFailure: true },
    );
    expect(Math.min(seen.kept, seen.refused)).toBeGreaterThan(40);
  });
});

describe('many wished places on one seam', () => {
  it.each([31, 32, 33, 40])('%i of them, each with a tack of its own', (count) => {
    const seam = placedSeam({ length: 50 * count, tack: 40, pitch: 300 });
    const shared = withWished(
      [seam],
      Array.from({ length: count }, (_, k) => near(50 * k + 25, -5, 8)),
    );
    if (!shared.ok) throw new Error(JSON.stringify(shared.error));
    const tacks = fewestTacks(shared.value[0]!)!;
    expect(tacks).toHaveLength(count);
    for (const set of shared.value[0]!.must!) expect(tacks.some((tack) => set.includes(tack))).toBe(true);
  });

  it('are walked to the fewest tacks that a covering program finds too', () => {
    let infeasible = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 4 })), { maxLength: 6 }),
        (wished) => {
          const seam = coveredSeam({ length: 300, tack: 30, pitch: 140 });
          const numbers = seam.sites.map((_, i) => i);
          const must = wished
            .map(([from, more]) => numbers.filter((i) => i >= from && i <= from + more))
            .filter((set) => set.length > 0);
          const program = { costs: numbers.map(() => 1), choices: seamChoices({ ...seam, must }) };
          const best = cover(program);
          const walked = fewestTacks({ ...seam, must });
          if (best.status === 'optimal') expect(walked).toHaveLength(best.cost);
          else expect([best.status, walked]).toEqual(['infeasible', undefined]);
          if (walked === undefined) infeasible += 1;
        },
      ),
      { numRuns: 200, seed: 5, endOnFailure: true },
    );
    expect(infeasible).toBeGreaterThan(5);
  });
});

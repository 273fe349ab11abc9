import fc from 'fast-check';
import { seededRandom } from '../../src/base/random.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import type { Wish } from '../../src/model/wish.js';
import { smallAbstract, smallWithCopies } from './abstract-samples.js';

/** A wish with nothing said but what it is about. */
export const wish = (about: object, more: Partial<Wish> = {}): Wish =>
  ({ never: false, soft: false, weight: 1, ...about, ...more }) as Wish;

/** Random wishes about a weldment without shapes, of every kind that there is for one. */
export function randomWishes({ parts }: AbstractWeldment, seed: number, count: number): Wish[] {
  const random = seededRandom(seed);
  const below = (n: number): number => Math.floor(random() * n);
  const names = parts.map(({ id }) => id);
  const grippers = parts.flatMap(({ ways }) => ways.map(({ gripper }) => gripper)).filter((g) => g !== '');
  return Array.from({ length: count }, () => {
    const a = below(names.length);
    const b = (a + 1 + below(Math.max(1, names.length - 1))) % names.length;
    const strength = { never: random() < 0.3, soft: random() < 0.6, weight: 1 + below(4) };
    const kind = below(names.length > 1 ? 5 : 3);
    if (kind === 0) return wish({ first: names[a] }, strength);
    if (kind === 1 && grippers.length > 0)
      return wish({ grip: names[a], gripper: grippers[below(grippers.length)] }, strength);
    if (kind === 2 || kind === 1) return wish({ regrips: names[a], most: below(2) }, strength);
    return wish({ before: [names[a], names[b]] }, strength);
  });
}

/** Small weldments with wishes, hard and soft; parts that are alike among them, and some with no legal order. */
export const smallWished: fc.Arbitrary<AbstractWeldment> = fc
  .record({
    weldment: fc.oneof(smallAbstract, smallWithCopies),
    seed: fc.integer(),
    count: fc.integer({ min: 1, max: 5 }),
  })
  .map(({ weldment, seed, count }) => ({ ...weldment, wishes: randomWishes(weldment, seed, count) }));

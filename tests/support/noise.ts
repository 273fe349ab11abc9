import type { Random } from '../../src/base/random.js';

/** Nearly normal noise of variance 1: the sum of twelve uniform numbers, less 6; enough for the middle of the bell. */
export const noise = (random: Random): number => {
  let sum = -6;
  for (let i = 0; i < 12; i += 1) sum += random();
  return sum;
};

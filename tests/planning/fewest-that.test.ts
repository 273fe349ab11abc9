import { describe, expect, it } from 'vitest';
import { fewestThat } from '../../src/planning/fewest-that.js';

const upTo = (n: number): number[] => Array.from({ length: n }, (_, i) => i);

describe('the fewest that are enough', () => {
  it('are the first set of the fewest, of the least number or more', () => {
    const enough = (chosen: readonly number[]): boolean => chosen.includes(2) && chosen.includes(4);
    expect(fewestThat(upTo(5), 1, enough)).toEqual({ tacks: [2, 4], fewestFound: false });
    expect(fewestThat(upTo(5), 3, enough)).toEqual({ tacks: [0, 2, 4], fewestFound: false });
    expect(fewestThat(upTo(2), 2, () => true)).toEqual({ tacks: [0, 1], fewestFound: false });
    expect(fewestThat([], 2, () => true)).toEqual({ tacks: [], fewestFound: false });
  });

  it('are all of them where nothing less is enough', () => {
    expect(fewestThat(upTo(4), 2, ({ length }) => length === 4).tacks).toEqual(upTo(4));
  });

  it('are only the fewest found when there are too many sets, and none of them can be left out', () => {
    // Of 40, sets of three or more with the last three: C(40, 2) = 780 pairs alone are more than are tried.
    const needed = [37, 38, 39];
    const enough = (chosen: readonly number[]): boolean => needed.every((one) => chosen.includes(one));
    expect(fewestThat(upTo(40), 2, enough)).toEqual({ tacks: needed, fewestFound: true });
  });

  it('asks a bounded number of times', () => {
    let asked = 0;
    const found = fewestThat(upTo(60), 2, ({ length }) => {
      asked += 1;
      return length >= 30;
    });
    expect(found.tacks).toHaveLength(30);
    expect(found.fewestFound).toBe(true);
    expect(asked).toBeLessThanOrEqual(400 + 60);
  });
});

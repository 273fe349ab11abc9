import { describe, expect, it } from 'vitest';
import { Numbered } from '../../src/base/numbered.js';

describe('numbers for things', () => {
  it('are the same for those that say the same, by what counts of them', () => {
    const numbered = new Numbered<{ readonly at: number; readonly note?: string }>(({ at }) => [at]);
    const one = { at: 1 };
    const numbers = [one, { at: 2 }, { at: 1, note: 'elsewhere' }, one].map((thing) => numbered.of(thing));
    expect(numbers).toEqual([0, 1, 0, 0]);
  });
});

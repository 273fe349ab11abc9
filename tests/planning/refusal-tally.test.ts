import { expect, it } from 'vitest';
import type { Refusal } from '../../src/model/verdict.js';
import { RefusalTally } from '../../src/planning/refusal-tally.js';

const fell = (part: string, state: string, load: string, value: number): Refusal => ({
  code: 'assembly-gives-way',
  subjects: [part, state, load],
  value,
  limit: 1.5,
  unit: 'reserve',
});

it('keeps each part and state once, the nearest miss of it, the most frequent first', () => {
  const tally = new RefusalTally();
  tally.add(fell('lid', 'let-go', 'push top 0 deg', 0.4));
  tally.add(fell('web', 'arriving', 'seating push on base', 1.2));
  tally.add(fell('lid', 'let-go', 'let-go pull', 1.4));
  tally.add(fell('lid', 'let-go', 'push top 0 deg', 0.2));
  expect(tally.mostFrequent().map(({ subjects, value }) => [...subjects, value])).toEqual([
    ['lid', 'let-go', 'let-go pull', 1.4],
    ['web', 'arriving', 'seating push on base', 1.2],
  ]);
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { FACT_KINDS, type FactKind } from '../../src/model/reason-fact.js';
import { wishSchema, type Wish } from '../../src/model/wish.js';
import { readExpectation } from './expectation.js';

/** For every kind of fact a story in which one of its kind helps to rule every plan out. */
const STORY_OF: Readonly<Record<FactKind, string>> = {
  needs: 'wished-before-what-it-needs',
  blocking: 'blocking-each-other',
  first: 'first-though-it-hangs-above-the-table',
  wish: 'wished-before-what-it-needs',
  contact: 'linked-rings',
  approach: 'linked-rings',
  grips: 'wished-grip-that-is-not-listed',
  rest: 'thin-bar-neither-lies-nor-stands',
  capacity: 'thin-sheet-under-strong-magnet',
  reach: 'linked-rings',
  'arm-room': 'wall-under-the-forearm',
  'gripper-room': 'gripper-beside-a-tall-neighbour',
  accuracy: 'infeed-too-inaccurate-for-a-tight-gap',
  torch: 'last-two-seams-too-far-without-a-turntable',
  hold: 'one-reason-is-enough',
  reserve: 'one-reason-is-enough',
  turning: 'post-in-the-round-of-the-turntable',
};

type KeysOf<T> = T extends unknown ? keyof T : never;
/** What a wish may be about. */
type WishWord = Exclude<
  KeysOf<Wish>,
  | ('never' | 'soft' | 'weight' | 'near' | 'within' | 'most')
  | ('gripper' | 'face' | 'position' | 'turn' | 'group' | 'robot')
>;

/** For everything that a wish may be about a story in which a hard one helps to rule every plan out; `not` forbids. */
const STORY_OF_WISH: Readonly<Record<WishWord, readonly [string, string]>> = {
  before: ['wished-before-what-it-needs', 'before'],
  first: ['wished-first-though-it-needs-another', 'first'],
  grip: ['wished-grip-that-is-not-listed', 'grip'],
  regrips: ['wished-without-the-regrip-that-it-needs', 'regrips'],
  held: ['wished-not-to-be-held', 'not held'],
  tack: ['wished-tacks-on-one-place', 'tack'],
};

function reasonsOf(story: string) {
  const expected = readExpectation(readFileSync(new URL(`${story}/expect.yaml`, import.meta.url), 'utf8'));
  if (expected.kind !== 'impossible') throw new Error(`${story} is not impossible`);
  return [...expected.reasons, ...expected.also.flat()];
}

describe('every kind of fact', () => {
  it.each(FACT_KINDS)('has a story that tells it: %s', (kind) => {
    expect(reasonsOf(STORY_OF[kind]).map((reason) => reason.kind)).toContain(kind);
  });
});

describe('every kind of wish', () => {
  // Each member of the union of wishes has its word as its first key.
  const words = wishSchema.options.map(({ shape }) => Object.keys(shape)[0]!);

  it.each(words)('has a story in which a hard one is told: %s', (word) => {
    expect(words.toSorted()).toEqual(Object.keys(STORY_OF_WISH).sort());
    const [story, told] = STORY_OF_WISH[word as WishWord];
    expect(reasonsOf(story).map((reason) => reason.wish)).toContain(told);
  });
});

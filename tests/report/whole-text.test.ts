import { describe, expect, it } from 'vitest';
import type { PlanWhole } from '../../src/model/plan-whole.js';
import { apartText, searchText, togetherText, triedText } from '../../src/report/whole-text.js';

const totals = (regrips: number) => [
  { term: 'regrips' as const, value: regrips },
  { term: 'time' as const, value: 600 },
];
const split = { groups: [{ parts: ['lug', 'post'], rest: 'post/-z' }] };
const whole: PlanWhole = {
  ...{ asked: 'auto', objective: totals(0), changesBetween: 0 },
  inOnePiece: { outcome: 'planned', objective: totals(1) },
  search: {
    ...{ liftable: 9, largest: 4, cut: false, promising: 3, most: 6, cutBy: 'seconds' },
    tried: [{ ...split, outcome: 'planned', objective: totals(0) }],
  },
};

describe('what is told of sub-assemblies', () => {
  it('says what plans come to together, and what that counts', () => {
    expect(togetherText(whole, 1)).toBe(
      '0 regrips, 1 min 0 s: the sums over 2 plans carried out one after another. Taking a sub-assembly out, measuring it and laying it at the infeed is the work of people and not counted.',
    );
    expect(togetherText({ ...whole, changesBetween: 1 }, 2)).toContain(
      'over 3 plans carried out one after another, and 1 gripper change between one and the next, without the time of it',
    );
  });

  it('claims no more than the best of what was tried', () => {
    expect(searchText(whole, 1)).toBe(
      'In one piece: 1 regrip, 1 min 0 s. Of 9 connected groups of at most 4 parts that a robot may lift, 3 promise something; 1 split tried, the most promising first (the seconds that were given ended the search). Taken: the best of these splits and of the plan in one piece; another split may be better.',
    );
    expect(searchText({ ...whole, inOnePiece: { outcome: 'impossible' } }, 0)).toMatch(
      /^In one piece there is no plan.*None is taken: no split that was tried is better; another may be\.$/,
    );
    expect(searchText({ ...whole, search: { ...whole.search!, promising: 1 } }, 1)).toContain(
      '1 promises something;',
    );
    const given: PlanWhole = { asked: 'given', objective: totals(0), changesBetween: 0 };
    expect(searchText(given, 1)).toContain('others, or none, were not compared');
  });

  it('says why a split was not taken', () => {
    expect(triedText({ ...split, outcome: 'dearer' })).toBe(
      'lug and post on post/-z: given up, the plan of the group alone is no better than the best so far',
    );
    const reason = { code: 'payload', subjects: ['lug-post', 'handler'], value: 21.4, limit: 16 };
    expect(triedText({ ...split, outcome: 'impossible', of: 'stand', reason })).toBe(
      'lug and post on post/-z: no plan of stand exists (lug-post, handler: payload: gripper and part 21.4, limit 16)',
    );
    expect(
      triedText({ ...split, outcome: 'refused', reason: { code: 'whole-true', subjects: ['whole'] } }),
    ).toBe('lug and post on post/-z: refused by rule or check whole-true at whole');
  });

  it('tells of which sub-assembly there is no plan, and what was tried in vain', () => {
    expect(apartText({ of: 'bracket' })).toBe('Sub-assembly bracket, which is planned by itself first:\n');
    expect(
      apartText({ splits: { ...whole.search!, tried: [{ ...split, outcome: 'none-found', of: 'x' }] } }),
    ).toBe(
      'In one piece, and with 1 split into sub-assemblies that was tried of 3 promising groups:\n  - lug and post on post/-z: no plan of x was found\n',
    );
    expect(apartText({})).toBe('');
  });
});

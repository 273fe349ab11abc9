import { describe, expect, it } from 'vitest';
import type { Answer, Verdict } from '../../src/explain/why/answer.js';
import type { Worth } from '../../src/explain/why/price.js';
import { canonicalText } from '../../src/io/canonical.js';
import { readAnswers } from '../../src/io/read-answers.js';
import { FACT_KINDS } from '../../src/model/reason-fact.js';

const TIME = [{ term: 'time', value: 900 }] as const;
const given: Worth = { objective: [{ term: 'time', value: 950, bound: 800 }], provedTerms: [] };
const reserve = { code: 'no-securing', subjects: ['rib'], fact: { kind: 'reserve', part: 'rib' } } as const;

const VERDICTS: readonly Verdict[] = [
  {
    ...{ kind: 'forced', scope: 'candidates' },
    reasons: [
      ...FACT_KINDS.map((kind) => ({ code: 'any', subjects: ['rib'], fact: { kind, part: 'rib' } })),
      { ...reserve, holds: { when: 'with', part: 'wall' } },
      { ...reserve, holds: { when: 'first' } },
      {
        ...{ code: 'wish', subjects: ['rib'] },
        fact: {
          ...{ kind: 'wish', part: 'rib', wish: 0 },
          wished: { first: 'rib', never: true, soft: false, weight: 1 },
        },
      },
    ],
  },
  { kind: 'forced-in-orders', refused: 3, reasons: [reserve] },
  { kind: 'dearer', given, atLeast: { term: 'time', value: 40 }, searched: true, states: 9, bound: TIME },
  {
    ...{ kind: 'open', given, states: 9, waiting: 2, bound: TIME },
    deepest: { inPlace: ['wall'], left: [{ part: 'rib', reasons: [reserve] }] },
  },
  { kind: 'unknown', states: 9 },
];

describe('readAnswers', () => {
  it('reads every kind of forced and open answer as it was written', () => {
    const answers = VERDICTS.map((verdict): Answer => {
      const has = { of: 'not-first', part: 'rib', stage: 2, first: 'wall' } as const;
      return { question: { ask: 'not-first', part: 'rib' }, has, verdict };
    });
    const { value, issues } = readAnswers(canonicalText({ kind: 'answered', answers }), 'why.json');
    expect(issues).toEqual([]);
    expect(value).toEqual(answers);
  });
});

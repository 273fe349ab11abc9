import { describe, expect, it } from 'vitest';
import type { Plan } from '../../src/model/plan.js';
import { claimText } from '../../src/report/claim-text.js';

const scope = { parts: 7, approaches: 19, grips: 1456, rests: 42, sites: 130 };

type Claim = Pick<Plan, 'kind' | 'objective' | 'proof'>;

const claim = (objective: Claim['objective'], proof: Partial<Claim['proof']>): Claim => ({
  kind: 'geometric',
  objective,
  proof: {
    ...{
      outcome: 'feasible',
      scope,
      policies: [],
      provedTerms: [],
      bestOf: 30,
      states: 80,
      notChecked: [],
    },
    ...proof,
  },
});

const objective = (regrips: number, changes: number, time: number): Claim['objective'] => [
  { term: 'regrips', value: 1, bound: regrips },
  { term: 'tool-changes', value: 0, bound: changes },
  { term: 'time', value: 3130, bound: time },
];

describe('claimText', () => {
  it('says optimal with the scope', () => {
    const proved = claim(objective(1, 0, 3130), {
      outcome: 'optimal',
      provedTerms: ['regrips', 'tool-changes', 'time'],
    });
    expect(claimText(proved)).toBe(
      'Optimal: 1 regrip, 0 tool changes, 5 min 13 s. Proved over 80 states: no better plan within the ' +
        '19 approaches, 1,456 grips, 42 rests and 130 tack sites considered for 7 parts.',
    );
  });

  it('tells proved terms from the gap of the next', () => {
    const part = claim(objective(1, 0, 2800), { provedTerms: ['regrips', 'tool-changes'] });
    expect(claimText(part)).toBe(
      'Best found: 1 regrip, 0 tool changes, 5 min 13 s. Regrips and tool changes proved least within the ' +
        '19 approaches, 1,456 grips, 42 rests and 130 tack sites considered for 7 parts. ' +
        'Time: best of 30 complete orders, at most 12% above its bound of 4 min 40 s. ' +
        'Searched: 80 states.',
    );
  });

  it('rounds a gap up, never down', () => {
    const part = claim(objective(1, 0, 3129), { provedTerms: ['regrips', 'tool-changes'] });
    expect(claimText(part)).toContain('at most 1% above its bound of 5 min 12.9 s');
  });

  it('claims nothing of terms after the first that is not proved', () => {
    expect(claimText(claim(objective(0, 0, 0), { bestOf: 1 }))).toBe(
      'Best found: 1 regrip, 0 tool changes, 5 min 13 s. Regrips: best of 1 complete order, with no bound. ' +
        'Tool changes and time: no claim. Searched: 80 states within the 19 approaches, 1,456 grips, 42 rests and ' +
        '130 tack sites considered for 7 parts.',
    );
  });

  it('says what was proved before the tacks were ordered anew', () => {
    const then = [...objective(1, 0, 3130).slice(0, 2), { term: 'time', value: 3110, bound: 3110 } as const];
    const before = (proved: number): Partial<Claim['proof']> => ({
      provedTerms: ['regrips', 'tool-changes'],
      beforeReordering: {
        ...{ stages: 2, objective: then },
        provedTerms: (['regrips', 'tool-changes', 'time'] as const).slice(0, proved),
      },
    });
    const words = 'Before the tacks of 2 stages were put in an order that distorts less: 5 min 11 s';
    expect(claimText(claim(objective(1, 0, 0), before(3)))).toContain(
      `Searched: 80 states. ${words}, proved least for tacks in that order.`,
    );
    expect(claimText(claim(objective(1, 0, 0), before(2)))).toMatch(new RegExp(`${words}\\.$`));
  });

  it('keeps the order of the objective', () => {
    const [regrips, changes, time] = objective(1, 0, 3130);
    const proof = { outcome: 'optimal', provedTerms: ['time', 'regrips', 'tool-changes'] } as const;
    expect(
      claimText(claim([time!, regrips!, changes!], { ...proof, provedTerms: [...proof.provedTerms] })),
    ).toMatch(/^Optimal: 5 min 13 s, 1 regrip, 0 tool changes\. /);
  });

  it('names the policies as part of the scope when there are any', () => {
    const proved = claim(objective(1, 0, 3130), { outcome: 'optimal', policies: ['one part at a time'] });
    expect(claimText(proved)).toContain('considered for 7 parts and the policies below.');
  });

  it('speaks of the given ways of a weldment without shapes', () => {
    const ways = { parts: 6, approaches: 0, grips: 9, rests: 0, sites: 0 };
    const proved = claim(objective(1, 0, 3130), { outcome: 'optimal', scope: ways });
    expect(claimText({ ...proved, kind: 'abstract' })).toContain(
      'no better plan within the 9 given ways of 6 parts.',
    );
  });
});

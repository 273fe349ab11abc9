import { expect } from 'vitest';
import type { ObjectiveTerm } from '../../src/model/settings.js';
import type { PlanOutcome } from '../../src/session/plan.js';
import { planIn } from '../support/planned.js';

/** What an outcome proves: its leading proved terms with their values. */
export function provedTerms(outcome: PlanOutcome): readonly { term: ObjectiveTerm; value: number }[] {
  const { objective, proof } = planIn(outcome);
  return objective.slice(0, proof.provedTerms.length).map(({ term, value }) => ({ term, value }));
}

/** Times come from milliseconds, so their tenths may be rounded to either side. */
const ROUNDING: Readonly<Record<ObjectiveTerm, number>> = {
  regrips: 0,
  'tool-changes': 0,
  distortion: 0,
  time: 1,
  wishes: 0,
};

/** Two outcomes prove the same terms with the same values; only the terms of `compared` are looked at. */
export function expectSameProof(
  changed: PlanOutcome,
  original: PlanOutcome,
  compared: readonly ObjectiveTerm[] = ['regrips', 'tool-changes', 'distortion', 'time'],
): void {
  const [now, before] = [changed, original].map(provedTerms) as [
    ReturnType<typeof provedTerms>,
    ReturnType<typeof provedTerms>,
  ];
  expect(now.map(({ term }) => term)).toEqual(before.map(({ term }) => term));
  before.forEach(({ term, value }, i) => {
    if (!compared.includes(term)) return;
    expect(Math.abs(now[i]!.value - value), `${term}: ${now[i]!.value} for ${value}`).toBeLessThanOrEqual(
      ROUNDING[term],
    );
  });
}

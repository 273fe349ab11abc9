import type { Finding } from '../model/finding.js';
import type { PlanHead } from '../model/plan.js';
import { breach, type Rule } from './rule.js';

const ID = 'proof-true';

/** Whether the claims of a plan about its own quality fit together. */
export function proofFindings(rule: string, { objective, proof }: PlanHead): Finding[] {
  const findings: Finding[] = [];
  objective.forEach(({ term, value, bound }, i) => {
    if (bound > value)
      findings.push(
        breach(rule, `objective[${i}].bound`, `the bound of ${term}, ${bound}, is above its value ${value}`, {
          value: bound,
          limit: value,
        }),
      );
  });
  proof.provedTerms.forEach((term, i) => {
    const entry = objective[i];
    const where = `proof.provedTerms[${i}]`;
    if (entry?.term !== term)
      findings.push(
        breach(rule, where, `${term} is not term ${i + 1} of the objective: an earlier one is open`),
      );
    else if (entry.bound < entry.value)
      findings.push(
        breach(
          rule,
          where,
          `${term} is called proved with the bound ${entry.bound} under its value ${entry.value}`,
          {
            value: entry.bound,
            limit: entry.value,
          },
        ),
      );
  });
  const whole = proof.provedTerms.length === objective.length;
  if (whole !== (proof.outcome === 'optimal'))
    findings.push(
      breach(
        rule,
        'proof.outcome',
        `the outcome is ${proof.outcome} with ${proof.provedTerms.length} of ${objective.length} terms proved`,
        { value: proof.provedTerms.length, limit: objective.length },
      ),
    );
  return findings;
}

/** A bound is no better than the value, and what is called proved is a leading term whose bound is met. */
export const proofTrue: Rule = {
  id: ID,
  forbids: 'bounds above their values, and proofs of terms whose bound is not met or that are not leading',
  why: 'a claim of optimality that does not follow from the bounds is worth nothing',
  judge: ({ plan }) => proofFindings(ID, plan),
};

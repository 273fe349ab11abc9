import type { Finding } from '../model/finding.js';
import type { PlanHead } from '../model/plan.js';
import { breach, type Rule } from './rule.js';

const ID = 'proof-true';

/** Whether bounds and proofs of an objective fit together; `of` and `by` are where they are stated. */
function claimFindings(
  rule: string,
  { objective, provedTerms }: Pick<PlanHead, 'objective'> & Pick<PlanHead['proof'], 'provedTerms'>,
  of: string,
  by: string,
): Finding[] {
  const findings: Finding[] = [];
  objective.forEach(({ term, value, bound }, i) => {
    if (bound > value)
      findings.push(
        breach(rule, `${of}[${i}].bound`, `the bound of ${term}, ${bound}, is above its value ${value}`, {
          value: bound,
          limit: value,
        }),
      );
  });
  provedTerms.forEach((term, i) => {
    const entry = objective[i];
    const where = `${by}[${i}]`;
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
  return findings;
}

/** What is said of the plan before its tacks were ordered anew: other values of the same terms, and claims that fit together. */
function beforeFindings(rule: string, { objective, proof }: PlanHead): Finding[] {
  const before = proof.beforeReordering;
  if (before === undefined) return [];
  const where = 'proof.beforeReordering';
  const terms = (of: PlanHead['objective']): string => of.map(({ term }) => term).join();
  if (terms(before.objective) !== terms(objective))
    return [breach(rule, `${where}.objective`, 'the terms are not those of the objective')];
  const same = before.objective.every(({ value }, i) => value === objective[i]!.value);
  return [
    ...(same ? [breach(rule, where, 'nothing of the objective was other than it is')] : []),
    ...claimFindings(rule, before, `${where}.objective`, `${where}.provedTerms`),
  ];
}

/** Whether the claims of a plan about its own quality fit together. */
export function proofFindings(rule: string, head: PlanHead): Finding[] {
  const { objective, proof } = head;
  const findings = [
    ...claimFindings(rule, { objective, provedTerms: proof.provedTerms }, 'objective', 'proof.provedTerms'),
    ...beforeFindings(rule, head),
  ];
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

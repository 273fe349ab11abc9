import { compareText } from '../base/order.js';
import type { Finding } from '../model/finding.js';
import { breach, type Rule, type RuleContext } from './rule.js';

const ID = 'each-part-once';

/** Parts that stages bring although unknown or already there, and parts that no stage brings. */
export function partFindings(
  rule: string,
  stages: readonly { readonly part: string }[],
  parts: readonly string[],
): Finding[] {
  const known = new Set(parts);
  const firstStage = new Map<string, number>();
  const findings: Finding[] = [];
  stages.forEach(({ part }, i) => {
    const where = `stages[${i}].part`;
    const earlier = firstStage.get(part);
    if (!known.has(part)) findings.push(breach(rule, where, `part ${part} is not in the weldment`));
    else if (earlier !== undefined)
      findings.push(
        breach(rule, where, `part ${part} joins again; it is in place since stage ${earlier + 1}`),
      );
    else firstStage.set(part, i);
  });
  for (const part of [...parts].sort(compareText))
    if (!firstStage.has(part)) findings.push(breach(rule, 'stages', `part ${part} never joins`));
  return findings;
}

/** Stages that are not numbered 1, 2, 3 and so on. */
export const numberFindings = (rule: string, stages: readonly { readonly number: number }[]): Finding[] =>
  stages.flatMap(({ number }, i) =>
    number === i + 1
      ? []
      : [
          breach(rule, `stages[${i}].number`, `stage number ${number} should be ${i + 1}`, {
            value: number,
            limit: i + 1,
          }),
        ],
  );

/** Every part of the weldment joins in exactly one stage, and the stages are numbered in order. */
export const eachPartOnce: Rule = {
  id: ID,
  forbids: 'a part that joins twice, never, or is unknown; stages out of number',
  why: 'the plan must build the weldment that was asked for, and nothing else',
  judge: ({ plan, weldment }: RuleContext): Finding[] => [
    ...partFindings(
      ID,
      plan.stages,
      weldment.parts.map(({ id }) => id),
    ),
    ...numberFindings(ID, plan.stages),
  ],
};

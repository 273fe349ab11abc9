import type { Finding } from '../model/finding.js';
import type { OrderRelations } from '../model/weldment.js';
import { breach, type Rule, type RuleContext } from './rule.js';

const ID = 'order-relations';

/** Breaches of the relations that the weldment file gives, by an order of parts. A part that never joins is silent. */
export function relationFindings(
  rule: string,
  stages: readonly { readonly part: string }[],
  relations: OrderRelations,
): Finding[] {
  const stageOf = new Map<string, number>();
  stages.forEach(({ part }, i) => {
    if (!stageOf.has(part)) stageOf.set(part, i);
  });
  const findings: Finding[] = [];
  const mustPrecede = (earlier: string, later: string, because: string): void => {
    const [a, b] = [stageOf.get(earlier), stageOf.get(later)];
    if (a === undefined || b === undefined || a <= b) return;
    const message = `${later} joins in stage ${b + 1}, before ${earlier} in stage ${a + 1}: ${because}`;
    findings.push(breach(rule, `stages[${b}].part`, message, { value: b + 1, limit: a + 1 }));
  };
  for (const { part, by } of relations.blocking)
    for (const blocker of by) mustPrecede(part, blocker, `${blocker} blocks ${part}`);
  for (const { part, after } of relations.needs)
    for (const needed of after) mustPrecede(needed, part, `${part} needs ${needed}`);
  const first = stages[0]?.part;
  if (relations.first !== undefined && first !== undefined && first !== relations.first)
    findings.push(
      breach(rule, 'stages[0].part', `${first} is placed first; the weldment asks for ${relations.first}`),
    );
  return findings;
}

/** The order keeps the blocking and needs relations of the weldment file and its first part. */
export const orderRelations: Rule = {
  id: ID,
  forbids:
    'a part that joins after what blocks it, before what it needs, or a first part other than the wished one',
  why: 'the engineer who gave these relations knows what the shapes do not show',
  judge: ({ plan, weldment }: RuleContext): Finding[] => relationFindings(ID, plan.stages, weldment),
};

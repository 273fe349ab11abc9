import type { LinearPrograms } from '../algorithms/linear-program.js';
import { readPlan } from '../io/read-plan.js';
import type { Finding } from '../model/finding.js';
import type { Issue } from '../model/issue.js';
import type { Plan } from '../model/plan.js';
import { checkAbstract } from '../rules/check-abstract.js';
import { INPUTS_TRUE } from '../rules/inputs-true.js';
import { checkWhole } from '../rules/sub-assemblies/check-whole.js';
import { readInputs, type Inputs, type Source, type Sources } from './inputs.js';

/** Findings of a plan that could be read, or the issues of what could not. */
export type CheckOutcome =
  | {
      readonly kind: 'judged';
      readonly plan: Plan;
      readonly findings: readonly Finding[];
      readonly warnings: readonly Issue[];
    }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] };

/** Judges a plan from scratch against the files it claims to be for. */
export function checkPlan(plan: Source, sources: Sources, programs: LinearPrograms): CheckOutcome {
  const read = readPlan(plan.text, plan.name);
  const { inputs, issues } = readInputs(sources);
  const all = [...read.issues, ...issues];
  if (!read.value || !inputs) return { kind: 'bad-input', issues: all };
  return {
    kind: 'judged',
    plan: read.value,
    findings: findingsOf(read.value, inputs, programs),
    warnings: all,
  };
}

/** Every finding of a plan: whether it is for these inputs, then every rule. */
export function findingsOf(plan: Plan, inputs: Inputs, programs: LinearPrograms): readonly Finding[] {
  const { weldment, cell } = inputs;
  const mismatch = inputFindings(plan, inputs);
  if (plan.kind === 'abstract' && weldment.kind === 'abstract')
    return [...mismatch, ...checkAbstract(weldment, plan)];
  if (plan.kind === 'geometric' && weldment.kind === 'geometric' && cell) {
    return [...mismatch, ...checkWhole({ weldment, cell, plan, programs })];
  }
  return [
    {
      rule: INPUTS_TRUE.id,
      where: 'kind',
      message: `the plan is ${plan.kind}, the weldment ${weldment.kind}`,
    },
  ];
}

/** The plan must name the very inputs it was made for. */
export function inputFindings(plan: Plan, inputs: Inputs): Finding[] {
  const pairs = [
    ['weldment', plan.weldment, { name: inputs.weldment.name, digest: inputs.weldmentDigest }],
    ...(plan.kind === 'geometric' && inputs.cell
      ? ([['cell', plan.cell, { name: inputs.cell.name, digest: inputs.cellDigest }]] as const)
      : []),
  ] as const;
  return pairs.flatMap(([where, stated, given]) => {
    if (stated.digest === given.digest && stated.name === given.name) return [];
    const message = `the plan was made for "${stated.name}" with digest ${stated.digest.slice(0, 12)}, the file is "${given.name}" with ${given.digest.slice(0, 12)}; give the file as it was, or plan again for this one`;
    return [{ rule: INPUTS_TRUE.id, where, message }];
  });
}

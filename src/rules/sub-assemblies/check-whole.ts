import type { Finding } from '../../model/finding.js';
import { checkGeometric } from '../check.js';
import type { RuleWords } from '../rule.js';
import { contextFor, splitContext, type GroupContext, type WholePlan } from './split-context.js';
import { headFindings, partsFindings, SUB_ASSEMBLIES_TRUE, wholeFindings } from './sub-assemblies-true.js';
import { liftFindings, SUB_ASSEMBLY_LIFTS } from './sub-assembly-lifts.js';

/** What is asked of a plan with sub-assemblies beside the rules for each of its plans. */
export const SUB_ASSEMBLY_RULES: readonly RuleWords[] = [SUB_ASSEMBLIES_TRUE, SUB_ASSEMBLY_LIFTS];

/**
 * Judges a plan and the plans of its sub-assemblies from scratch. What it states of its sub-assemblies comes first; where
 * that is wrong, nothing can be taken apart. Then the plan of each sub-assembly is judged as that of a weldment of its own,
 * and the plan of the weldment with them as parts, each by every rule; and whether each sub-assembly can be lifted. Never throws.
 */
export function checkWhole(whole: WholePlan): Finding[] {
  const apart = partsFindings(whole);
  if (apart.length > 0) return apart;
  const { weldment, plan } = whole;
  const asked = wholeFindings(whole);
  if (plan.subAssemblies === undefined)
    return [...asked, ...checkGeometric(contextFor(whole, weldment, plan))];
  const split = splitContext(whole);
  return [
    ...asked,
    ...headFindings(split),
    ...split.groups.flatMap(groupFindings),
    ...checkGeometric(split.main),
    ...split.groups.flatMap((group) => liftFindings(split.main, group)),
  ];
}

/** The findings of a nested plan, with where they are in the plan that it is in. */
const groupFindings = ({ stated, where, context }: GroupContext): Finding[] =>
  checkGeometric(context).map((finding) => ({
    ...finding,
    where: `${where}.plan.${finding.where}`,
    message: `${stated.name}: ${finding.message}`,
  }));

import type { Plan } from '../../model/plan.js';
import { partsFindings } from '../../rules/sub-assemblies/sub-assemblies-true.js';
import { splitOf } from '../../rules/sub-assemblies/split-context.js';
import type { Inputs } from '../inputs.js';

/**
 * The inputs as the stages of a plan speak of them: a weldment in one piece, which has the sub-assemblies of the plan as parts.
 * The same inputs where sub-assemblies are stated that cannot be: judging the plan tells.
 */
export function mainInputs(plan: Plan, inputs: Inputs): Inputs {
  const { weldment } = inputs;
  if (plan.kind === 'abstract' || weldment.kind === 'abstract') return inputs;
  if (partsFindings({ weldment, plan }).length > 0) return inputs;
  if (plan.subAssemblies === undefined) return { ...inputs, weldment: { ...weldment, subAssemblies: 'off' } };
  return { ...inputs, weldment: splitOf(weldment, plan).main };
}

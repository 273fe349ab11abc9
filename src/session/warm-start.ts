import type { LinearPrograms } from '../algorithms/linear-program.js';
import { compareVectors } from '../base/order.js';
import { readPlan } from '../io/read-plan.js';
import type { Finding } from '../model/finding.js';
import type { Issue } from '../model/issue.js';
import { objectiveOf, termValue, type TermValues } from '../model/objective.js';
import type { AbstractPlan, Plan, PlanHead } from '../model/plan.js';
import { withoutShapes } from '../model/settings.js';
import { statedWishes } from '../planning/stated-wishes.js';
import { brokenWeight, countedTerms } from '../rules/objective-true.js';
import { abstractCounts } from '../rules/check-abstract.js';
import { abstractWishStages, wishStages } from '../rules/wishes-true.js';
import { findingsOf } from './check.js';
import type { Inputs, Source } from './inputs.js';

/** An earlier plan, as it is under the inputs that are planned now. */
export interface WarmStart {
  /** Stated anew for these inputs: their names and digests, settings, wishes and objective; nothing is claimed of it as proved. */
  readonly plan: Plan;
  /** What the rules find wrong with it here; none where it is legal. */
  readonly findings: readonly Finding[];
}

/** What a warm start came to: whether the old plan is still legal, what is in its way if not, and whether it is the plan. */
export interface WarmStartTold {
  readonly legal: boolean;
  readonly stoppedBy?: Finding | undefined;
  readonly kept: boolean;
}

/** Reads an earlier plan; one that is for another weldment by name is warned of, one of another kind of weldment is refused. */
export function readWarmStart(
  { text, name }: Source,
  inputs: Inputs,
  programs: LinearPrograms,
): { readonly value: WarmStart | undefined; readonly issues: readonly Issue[] } {
  const { value: old, issues } = readPlan(text, name);
  if (old === undefined) return { value: undefined, issues };
  const { weldment } = inputs;
  const about = { file: name, line: 0 };
  if (old.kind !== weldment.kind)
    return {
      value: undefined,
      issues: [
        ...issues,
        {
          ...{ ...about, code: 'plan-of-other-kind', severity: 'error', path: 'kind' },
          problem: `the plan is ${old.kind}, the weldment ${weldment.kind}`,
          remedy: 'start from a plan of this weldment',
        },
      ],
    };
  const other: readonly Issue[] =
    old.weldment.name === weldment.name
      ? []
      : [
          {
            ...{ ...about, code: 'plan-of-other-weldment', severity: 'warning', path: 'weldment.name' },
            problem: `the plan is for "${old.weldment.name}", not for "${weldment.name}"`,
            remedy: 'parts of equal names are taken up; check that this is meant',
          },
        ];
  const plan = restated(old, inputs);
  return { value: { plan, findings: findingsOf(plan, inputs, programs) }, issues: [...issues, ...other] };
}

/** The plan as one for these inputs. */
function restated(old: Plan, inputs: Inputs): Plan {
  const { weldment, settings } = inputs;
  const stages = old.kind === 'geometric' ? wishStages(old) : abstractWishStages(old);
  const wishes = statedWishes(weldment, settings, stages);
  const proof = { ...old.proof };
  delete proof.beforeReordering;
  const head = (values: TermValues): Omit<PlanHead, 'format' | 'version'> => {
    const terms = objectiveOf(weldment, settings);
    const counted = old.kind === 'geometric' ? terms : withoutShapes(terms);
    return {
      weldment: { name: weldment.name, digest: inputs.weldmentDigest },
      settings,
      objective: counted.map((term) => ({ term, value: termValue(values, term), bound: 0 })),
      proof: { ...proof, outcome: 'feasible', provedTerms: [], bestOf: 1, states: 0 },
      ...wishes,
      ...{ rulesNotApplied: old.rulesNotApplied, warnings: old.warnings, cautions: old.cautions },
    };
  };
  const bare = { ...old };
  delete bare.wishes;
  if (bare.kind === 'abstract')
    return {
      ...bare,
      ...head({ ...abstractCounts(bare as AbstractPlan), wishes: brokenWeight(wishes) }),
    } as Plan;
  return {
    ...bare,
    ...head({ ...countedTerms({ ...bare, ...wishes }), wishes: brokenWeight(wishes) }),
    cell: { name: inputs.cell!.name, digest: inputs.cellDigest },
  } as Plan;
}

/** Whether a plan is better than another by the objective, which both have. */
export const isBetter = (plan: Plan, than: Plan): boolean =>
  compareVectors(
    plan.objective.map(({ value }) => value),
    than.objective.map(({ value }) => value),
  ) < 0;

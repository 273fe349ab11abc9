import type { GeometricPlan } from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { withDistortion } from '../../src/planning/distortion.js';
import { excessTenths } from '../../src/rules/distortion-excess.js';
import { withTackOrders } from '../support/tack-orders.js';
import { inPlan, mutation, NOT_THERE, type Mutation } from './mutation.js';

/** The plan with the distortion that it says counted in its objective, and no more proved than is. */
function counted(plan: GeometricPlan): GeometricPlan {
  const value = excessTenths(plan.distortion.features);
  const objective = plan.objective.map((entry) =>
    entry.term === 'distortion' ? { ...entry, value, bound: Math.min(entry.bound, value) } : entry,
  );
  const open = objective.findIndex((entry) => entry.value > entry.bound);
  if (open < 0) return { ...plan, objective };
  const provedTerms = plan.proof.provedTerms.slice(0, open);
  return { ...plan, objective, proof: { ...plan.proof, outcome: 'feasible', provedTerms } };
}

/** Ten times the shrinkage that is published, and all that is stated made to fit again. */
const shrinkingMore: Mutation['mutate'] = ({ weldment, cell, plan }) => {
  const { settings } = plan;
  const more = { ...settings, distortion: { ...settings.distortion, angular: 10 } };
  const factors = { ...plan.distortion.factors, angular: 10 };
  const changed = { ...plan, settings: more, distortion: { ...plan.distortion, factors } };
  const scene = buildScene(weldment, cell, more);
  const inputs = { scene, cell, settings: more };
  const told = withDistortion(changed, inputs);
  const widest = Math.max(
    0,
    ...told.stages.flatMap(({ distortion }) => distortion.openings.map(({ before }) => before)),
  );
  if (widest <= weldment.fitUp.gap) return undefined;
  return { weldment, cell, plan: counted(withTackOrders(told, inputs)) };
};

export const DISTORTION: readonly Mutation[] = [
  mutation('gaps-stay-closed', 'tacks that open the seams after them', shrinkingMore),
  mutation(
    'distortion-true',
    'a part that is said to have moved on',
    inPlan((plan) => {
      const step = plan.stages
        .flatMap(({ distortion }) => distortion.steps)
        .find(({ moved }) => moved.length > 0);
      if (step === undefined) return NOT_THERE;
      step.moved[0]!.move[0] += 0.1;
      return undefined;
    }),
  ),
  mutation(
    'distortion-true',
    'a part that is said to have turned',
    inPlan((plan) => {
      const step = plan.stages
        .flatMap(({ distortion }) => distortion.steps)
        .find(({ moved }) => moved.length > 0);
      if (step === undefined) return NOT_THERE;
      step.moved[0]!.turn[2] += 0.01;
      return undefined;
    }),
  ),
  mutation(
    'distortion-true',
    'a step that is left out',
    inPlan((plan) => {
      plan.stages.at(-1)!.distortion.steps.pop();
    }),
  ),
  mutation(
    'distortion-true',
    'a gap that is stated too narrow',
    inPlan((plan) => {
      const opening = plan.stages
        .flatMap(({ distortion }) => distortion.openings)
        .find(({ before }) => before > 0.01);
      if (opening === undefined) return NOT_THERE;
      opening.before = 0;
      return undefined;
    }),
  ),
  mutation(
    'distortion-true',
    'factors that are not those of the settings',
    inPlan((plan) => {
      plan.distortion.factors.angular += 1;
    }),
  ),
  mutation(
    'distortion-true',
    'a tolerance that the weldment does not have',
    inPlan((plan) => {
      const [from, to] = [plan.stages[0]!.part, plan.stages[1]!.part];
      const feature = { name: 'stranger', from, to, class: 'A' as const, nominal: 100, deviation: 0 };
      plan.distortion.features.push({ ...feature, tolerance: 1, limit: 0.333, within: true });
    }),
  ),
  mutation(
    'distortion-true',
    'a greatest movement that is stated too small',
    inPlan((plan) => {
      if (plan.distortion.worst === null) return NOT_THERE;
      plan.distortion.worst.mm /= 2;
      return undefined;
    }),
  ),
];

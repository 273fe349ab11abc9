import type { PlanFigures } from '../model/family-result.js';
import type { GeometricPlan } from '../model/plan.js';
import { weakestReserve } from '../report/weakest-point.js';
import { everyTack } from '../rules/stage-tacks.js';

/** What a plan comes to; the file beside the result is named by whoever writes it. */
export function figuresOf(plan: GeometricPlan): PlanFigures {
  const { objective, stages, timeline, proof } = plan;
  return {
    objective: objective.map((one) => ({ ...one })),
    regrips: sum(stages.map(({ handling }) => Math.max(0, handling.length - 1))),
    toolChanges: sum(
      plan.programs.map(({ steps }) => steps.filter((step) => step.do === 'change-gripper').length),
    ),
    seconds: timeline.makespan,
    tacks: sum(stages.map((stage) => everyTack(stage).length)),
    distortion: usedShare(plan),
    leastReserve: leastReserve(plan),
    proved: [...proof.provedTerms],
    file: null,
  };
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);

/** A feature that may not deviate at all has no share to be used. */
function usedShare({ distortion }: GeometricPlan): number | null {
  const shares = distortion.features.flatMap(({ deviation, limit }) =>
    limit > 0 ? [deviation / limit] : [],
  );
  return shares.length === 0 ? null : Math.max(...shares);
}

/** In place or while it is carried, whichever is nearer to what it must be. */
function leastReserve({ stages }: GeometricPlan): PlanFigures['leastReserve'] {
  const all = stages.flatMap(({ number: stage, part, reserves, handling }) => [
    ...handling.map(({ grip, carried }) => ({
      ...{ stage, state: 'carried', case: carried.case, reserve: carried.reserve },
      ...{ required: carried.required, weakest: `${part} on ${grip.gripper}` },
    })),
    ...reserves.map(({ state, case: load, reserve, required, weakest }) => ({
      ...{ stage, state, case: load, reserve, required, weakest },
    })),
  ]);
  return weakestReserve(all) ?? null;
}

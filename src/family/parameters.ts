import type { BuildPattern } from '../model/build-pattern.js';
import type { StageParameters } from '../model/pattern-parameters.js';
import type { GeometricPlan, Stage } from '../model/plan.js';

/** What a plan by a pattern puts in for each of its stages: numbers that differ from variant to variant. */
export const parametersOf = (plan: GeometricPlan, pattern: BuildPattern): StageParameters[] =>
  plan.stages.map((stage) => ({
    stage: stage.number,
    of: pattern.stages.findIndex(({ part }) => part === stage.part) + 1,
    part: stage.part,
    grips: stage.handling.map(({ grip, take, put }) => ({
      ...{ position: grip.position, taken: take.part, put: put.part },
    })),
    alsoHeld: stage.alsoHeld?.grip.position ?? null,
    approach: stage.approach,
    tacks: tacksOf(stage),
    proofPull: stage.proofPull,
  }));

function tacksOf({ tacks, manual }: Stage): StageParameters['tacks'] {
  const byRobots = tacks.map(({ id, robot, joint, seam, start, length, leg, phase, order }) => ({
    ...{ order, told: { id, robot, joint, seam, start, length, leg, phase } },
  }));
  const byHand = (manual?.tacks ?? []).map(({ id, joint, seam, start, length, leg, order }) => ({
    ...{ order, told: { id, robot: null, joint, seam, start, length, leg, phase: null } },
  }));
  return [...byRobots, ...byHand].sort((a, b) => a.order - b.order).map(({ told }) => told);
}

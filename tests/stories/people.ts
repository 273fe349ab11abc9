import type { GeometricPlan, Stage, Step } from '../../src/model/plan.js';
import type { Planned } from './expectation.js';

type Wanted = NonNullable<Planned['by-hand']>[string];

/** Steps in which a robot does anything by itself. */
const works = ({ do: what }: Step): boolean => what !== 'signal' && what !== 'await' && what !== 'manual';

/**
 * What is wrong with a stage in which a person shall set a part: that robots have a part in it, tacks and seconds, and in
 * the planned times what robots do meanwhile, or do in earlier stages afterwards.
 */
export function byHand(plan: GeometricPlan, stage: Stage, wanted: Wanted): string[] {
  const { part, manual, robot, handling, tacks, number } = stage;
  if (manual === undefined) return [`${part} is not set by hand`];
  const steps = plan.programs.flatMap((program) => program.steps);
  const [own, ...more] = steps.filter((step) => step.do === 'manual' && step.part === part);
  if (own === undefined || more.length > 0) return [`${part} has ${1 + more.length} steps by hand`];
  const meanwhile = steps.filter(
    (step) => works(step) && step.end > step.start && step.start < own.end && step.end > own.start,
  );
  const late = steps.filter(
    (step) => works(step) && step.stage !== 0 && step.stage < number && step.end > own.start,
  );
  const said = { seconds: manual.seconds, tacks: manual.tacks.length };
  return [
    ...(JSON.stringify(said) === JSON.stringify({ seconds: wanted.seconds, tacks: wanted.tacks })
      ? []
      : [`${part} by hand: got ${JSON.stringify(said)}; expected ${JSON.stringify(wanted)}`]),
    ...(robot === null && handling.length + tacks.length === 0 ? [] : [`robots handle or tack ${part}`]),
    ...(Math.abs(own.end - own.start - wanted.seconds) < 1e-3
      ? []
      : [`the step of ${part} has other seconds`]),
    ...[...meanwhile, ...late].map((step) => `step ${step.n} (${step.do}) while a person sets ${part}`),
  ];
}

import type { GeometricPlan } from '../../model/plan.js';
import type { ObjectiveTerm } from '../../model/settings.js';
import type { Refusal } from '../../model/verdict.js';
import type { PlanOutcome } from '../plan-outcome.js';

/** What there is to be gained if a part were tacked to others first. */
export interface PartPromise {
  /** What the plan in one piece spends on it, by terms in the order in which they count, time left out; or 1 where it is stuck. */
  readonly saves: readonly number[];
  /** Seconds that its robot waits with it or for it. */
  readonly waits: number;
}

/** By the names of parts; one that is not in it promises nothing. */
export type Promises = ReadonlyMap<string, PartPromise>;

/** What a plan in one piece spends on each part, by the terms of its objective. */
export function spentOn(plan: GeometricPlan): Promises {
  const terms = plan.objective.map(({ term }) => term).filter((term) => term !== 'time');
  return new Map(
    plan.stages.map(({ part, number }) => [
      part,
      {
        saves: terms.map((term) => spentBy(plan, part, term)),
        waits: plan.timeline.activities
          .filter(({ stage, what, robot }) => stage === number && what === 'wait' && isHandler(plan, robot))
          .reduce((sum, { start, end }) => sum + end - start, 0),
      },
    ]),
  );
}

const isHandler = ({ programs }: GeometricPlan, robot: string): boolean =>
  programs.some((program) => program.robot === robot && program.duty === 'handle');

function spentBy(plan: GeometricPlan, part: string, term: ObjectiveTerm): number {
  const { number, handling } = plan.stages.find((stage) => stage.part === part)!;
  switch (term) {
    case 'regrips':
      return Math.max(0, handling.length - 1);
    case 'tool-changes':
      return plan.programs
        .flatMap(({ steps }) => steps)
        .filter((step) => step.do === 'change-gripper' && step.stage === number).length;
    case 'distortion':
      return plan.distortion.features.filter(
        ({ from, to, within }) => !within && (from === part || to === part),
      ).length;
    case 'wishes':
      // A broken wish is no matter of one part's place among others.
      return 0;
    case 'time':
      return 0;
  }
}

type Stuck = Extract<PlanOutcome, { kind: 'impossible' | 'none-found' }>;

/** The parts that some reasons are about. */
export function stuckBy(reasons: readonly Refusal[], parts: readonly string[]): Promises {
  const named = new Set(reasons.map(({ fact, subjects }) => fact?.part ?? subjects[0]));
  return new Map(parts.filter((id) => named.has(id)).map((id) => [id, { saves: [1], waits: 0 }]));
}

/** The parts that the reasons are about why there is no plan in one piece, or that keep parts away which its search left out. */
export function stuckIn(outcome: Stuck, parts: readonly string[]): Promises {
  const further =
    outcome.kind === 'impossible'
      ? outcome.also.flatMap((set) => set.reasons)
      : (outcome.deepest?.left ?? []).flatMap((left) => left.reasons);
  return stuckBy([...outcome.reasons, ...further], parts);
}

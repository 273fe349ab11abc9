import { compareText, rounded } from '../../base/order.js';
import type { GeometricPlan } from '../../model/plan.js';
import { criticalChain } from './critical-chain.js';
import type { Sides } from './sides.js';

/** Something that a robot does on the critical path. */
export interface CriticalAct {
  readonly robot: string;
  readonly what: string;
  /** The part of its stage; empty for what belongs to none. */
  readonly part: string;
}

export interface TimelineDifference {
  /** Seconds. */
  readonly makespan: Sides<number>;
  /** Robots that wait for others another time in all, seconds; 0 for a robot that a plan does not have. */
  readonly waits: readonly { readonly robot: string; readonly a: number; readonly b: number }[];
  /** What is on the critical path of one plan only, whatever its stage. */
  readonly critical: Sides<readonly CriticalAct[]>;
}

/** Seconds that each robot waits. */
const waitsOf = ({ programs }: GeometricPlan): ReadonlyMap<string, number> =>
  new Map(
    programs.map(({ robot, steps }) => [
      robot,
      rounded(
        steps.reduce((sum, step) => sum + (step.do === 'await' ? step.end - step.start : 0), 0),
        3,
      ),
    ]),
  );

/** The critical path, each act once, in time order. */
function criticalActs(plan: GeometricPlan): ReadonlyMap<string, CriticalAct> {
  const acts = criticalChain(plan).flatMap(({ robot, what }) =>
    what.map((one): CriticalAct => ({
      ...{ robot, what: one.what },
      part: plan.stages.find(({ number }) => number === one.stage)?.part ?? '',
    })),
  );
  return new Map(acts.map((act) => [[act.robot, act.what, act.part].join('\n'), act]));
}

/** How the timelines of two plans differ; undefined where they do not. */
export function timelineDifference(a: GeometricPlan, b: GeometricPlan): TimelineDifference | undefined {
  const makespan = { a: a.timeline.makespan, b: b.timeline.makespan };
  const [inA, inB] = [waitsOf(a), waitsOf(b)];
  const waits = [...new Set([...inA.keys(), ...inB.keys()])]
    .sort(compareText)
    .map((robot) => ({ robot, a: inA.get(robot) ?? 0, b: inB.get(robot) ?? 0 }))
    .filter((wait) => wait.a !== wait.b);
  const [actsA, actsB] = [criticalActs(a), criticalActs(b)];
  const only = (these: typeof actsA, those: typeof actsA): CriticalAct[] =>
    [...these].flatMap(([key, act]) => (those.has(key) ? [] : [act]));
  const critical = { a: only(actsA, actsB), b: only(actsB, actsA) };
  const alike = waits.length === 0 && critical.a.length === 0 && critical.b.length === 0;
  return makespan.a === makespan.b && alike ? undefined : { makespan, waits, critical };
}

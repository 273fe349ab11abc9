import type { PlanDifference } from '../../src/explain/difference/difference.js';
import type { AbstractPlan, GeometricPlan, PlanTack, Stage } from '../../src/model/plan.js';
import { barePlan, bareStage } from '../support/bare-plan.js';
import { smallPlan } from '../report/small-plan.js';

/** Exchanges A and B in a difference: every `a` with `b`, `better` too. */
export function mirrored<T>(value: T): T {
  if (value === 'a') return 'b' as T;
  if (value === 'b') return 'a' as T;
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map((entry) => mirrored<unknown>(entry)) as T;
  const swapped: Readonly<Record<string, string>> = { a: 'b', b: 'a' };
  return Object.fromEntries(
    Object.entries(value).map(([key, member]) => [
      swapped[key] ?? key,
      key === 'what' || key === 'part' ? member : mirrored<unknown>(member),
    ]),
  ) as T;
}

export const mirror = (difference: PlanDifference): PlanDifference => mirrored(difference);

const moved = (tack: PlanTack, id: string, start: number, robot = tack.robot): PlanTack => ({
  ...structuredClone(tack),
  ...{ id, start, robot },
});

const seam = (id: string, z: number): GeometricPlan['joints'][number]['seams'][number] => ({
  ...{ id, from: [0, 0, z], to: [0, 300, z], open: [1, 0, 0] },
});

/** The small plan with seams, a third part and something to wait for. */
export function planA(): GeometricPlan {
  const plan = smallPlan();
  const step = { n: 1, stage: 1, start: 0, end: 4, do: 'await' as const, handshake: 'h1', at: 'home' };
  return {
    ...plan,
    joints: [
      { ...plan.joints[0]!, seams: [seam('J1.1', 0)] },
      { ...plan.joints[1]!, seams: [seam('J2.1', 9)] },
    ],
    stages: [...plan.stages, bareStage('rib', 2), bareStage('cap', 3)],
    programs: [
      { robot: 'handler', duty: 'handle', steps: [] },
      { robot: 'welder', duty: 'weld', steps: [step] },
    ],
    warnings: ['the lid is heavy'],
  };
}

/** Plan A with something of every kind changed. */
export function planB(): GeometricPlan {
  const plan = structuredClone(planA());
  const [base, wall, rib, cap] = plan.stages as [Stage, Stage, Stage, Stage];
  const [one, , three] = wall.tacks as [PlanTack, PlanTack, PlanTack];
  wall.tacks = [moved(one, 'J1.1@22.5', 22.5, 'other-welder'), three];
  wall.handling.shift();
  wall.handling[0]!.grip = { gripper: 'single', face: '+x', position: [10, -5.25], turn: 90 };
  wall.held = null;
  wall.stands = 'free-standing';
  wall.standsOn = { table: true, parts: ['base'] };
  cap.approach!.direction = [1, 0, 0];
  cap.turn = 90;
  cap.remedies = ['locate', 'seat'];
  rib.proofPull = 50;
  plan.stages = [base, cap, wall, rib].map((stage, i) => ({ ...stage, number: i + 1 }));
  plan.objective[0]!.value = 0;
  plan.objective[1]!.value = 2;
  plan.objective[2]!.value = 1255;
  plan.timeline.makespan = 125.5;
  plan.timeline.activities[0]!.critical = false;
  plan.programs[1]!.steps[0]!.end = 10;
  plan.handshakes = [{ id: 'h1' } as never];
  plan.warnings = ['the wall is thin'];
  plan.settings.reserves.gravity = 1.4;
  plan.settings.objective = ['regrips', 'tool-changes', 'time'];
  return plan;
}

/** A plan without shapes. */
export function abstractOf(...parts: readonly string[]): AbstractPlan {
  const { format, version, weldment, settings, proof } = barePlan();
  return {
    ...{ format, version, kind: 'abstract', weldment, settings, proof },
    objective: [{ term: 'regrips', value: 0, bound: 0 }],
    ...{ rulesNotApplied: [], warnings: [], cautions: [] },
    stages: parts.map((part, i) => ({
      ...{ number: i + 1, part, gripper: 'narrow', regrips: 0, tacks: 2, seconds: 20 },
    })),
  };
}

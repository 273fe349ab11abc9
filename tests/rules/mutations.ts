import type { Cell } from '../../src/model/cell.js';
import { oppositeFace } from '../../src/model/part-geometry.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import type { Weldment } from '../../src/model/weldment.js';
import { rebuilt } from './rebuilt-programs.js';

/** What a check is given; a mutation hands out a changed copy and leaves the original alone. */
export interface Checked {
  readonly weldment: Weldment;
  readonly cell: Cell;
  readonly plan: GeometricPlan;
}

/** A way to spoil a sound plan so that one rule must notice. */
export interface Mutation {
  readonly name: string;
  /** The rule that must speak. */
  readonly rule: string;
  /** Rules that cannot help but speak too; all others must stay silent. */
  readonly also: readonly string[];
  /** Undefined when the plan has nothing of the kind. */
  mutate(checked: Checked): Checked | undefined;
}

/** A change of the plan alone, made on a copy; `false` when there is nothing to change. */
const inPlan =
  (change: (plan: GeometricPlan) => boolean | void): Mutation['mutate'] =>
  (checked) => {
    const plan = structuredClone(checked.plan);
    return change(plan) === false ? undefined : { ...checked, plan };
  };

/** A change of the steps of all programs, with numbers, times and handshakes made to fit again. */
const inPrograms =
  (
    change: (programs: GeometricPlan['programs'], plan: GeometricPlan) => boolean | void,
  ): Mutation['mutate'] =>
  (checked) => {
    const plan = structuredClone(checked.plan);
    return change(plan.programs, plan) === false ? undefined : { ...checked, plan: rebuilt(plan) };
  };

const inCell =
  (change: (cell: Cell) => Cell): Mutation['mutate'] =>
  (checked) => ({ ...checked, cell: change(checked.cell) });

const stepsOf = (plan: GeometricPlan): Step[] => plan.programs.flatMap(({ steps }) => steps);

const mutation = (
  rule: string,
  name: string,
  mutate: Mutation['mutate'],
  also: readonly string[] = [],
): Mutation => ({ rule, name, mutate, also });

const parts: readonly Mutation[] = [
  mutation(
    'each-part-once',
    'the last stage skips a number',
    inPlan((plan) => {
      const last = plan.stages.at(-1)!;
      for (const step of stepsOf(plan)) if (step.stage === last.number) step.stage += 1;
      last.number += 1;
    }),
  ),
  mutation(
    'each-part-once',
    'the last part is one that nobody knows',
    inPlan((plan) => {
      const last = plan.stages.at(-1)!;
      for (const step of stepsOf(plan)) if ('part' in step && step.part === last.part) step.part = 'stranger';
      last.part = 'stranger';
    }),
  ),
  mutation('order-relations', 'the first part needs the last', ({ weldment, ...rest }) => {
    const { stages } = rest.plan;
    const needs = [...weldment.needs, { part: stages[0]!.part, after: [stages.at(-1)!.part] }];
    return { ...rest, weldment: { ...weldment, needs } };
  }),
  mutation('order-relations', 'another part is wished first', ({ weldment, ...rest }) => ({
    ...rest,
    weldment: { ...weldment, first: rest.plan.stages.at(-1)!.part },
  })),
  mutation(
    'first-part-stands',
    'the first part is said to be tacked',
    inPlan((plan) => {
      plan.stages[0]!.stands = 'tacked';
    }),
  ),
  mutation(
    'joined-to-weldment',
    'a later part is said to be clamped',
    inPlan((plan) => {
      plan.stages.at(-1)!.stands = 'clamped';
    }),
  ),
  mutation(
    'joints-true',
    'a joint has another origin',
    inPlan((plan) => {
      plan.joints[0]!.origin = plan.joints[0]!.origin === 'given' ? 'proposed' : 'given';
    }),
  ),
  mutation('joints-true', 'the file asks for another type of joint', ({ weldment, ...rest }) => {
    const joints = weldment.joints?.map((joint, i) =>
      i === 0 ? { ...joint, type: 'edge' as const } : joint,
    );
    return joints && { ...rest, weldment: { ...weldment, joints } };
  }),
];

const handling: readonly Mutation[] = [
  mutation(
    'approach-free',
    'the last part comes from where it should leave to',
    inPlan((plan) => {
      const { approach } = plan.stages.at(-1)!;
      approach.direction = approach.direction.map((x) => -x) as typeof approach.direction;
    }),
    ['reach', 'gripper-clear', 'approach-long-enough'],
  ),
  mutation(
    'approach-long-enough',
    'the stroke of the last part is cut to a tenth',
    inPlan((plan) => {
      plan.stages.at(-1)!.approach.distance /= 10;
    }),
    ['reach'],
  ),
  mutation(
    'grip-fits',
    'a gripper that is not in the cell',
    inPlan((plan) => {
      const gone = plan.stages[0]!.handling[0]!.grip.gripper;
      for (const { grip } of plan.stages.flatMap((stage) => stage.handling))
        if (grip.gripper === gone) grip.gripper = 'stranger';
      for (const step of stepsOf(plan)) {
        if (step.do === 'grip' && step.gripper === gone) step.gripper = 'stranger';
        if (step.do === 'change-gripper' && step.to === gone) step.to = 'stranger';
      }
    }),
  ),
  mutation(
    'grip-fits',
    'an arm that carries less than a gripper',
    inCell((cell) => ({
      ...cell,
      handler: { ...cell.handler, payload: { ...cell.handler.payload, mass: 1 } },
    })),
  ),
  mutation(
    'grip-carries',
    'a reserve of gravity that no grip has',
    inPlan((plan) => {
      plan.settings.reserves.gravity = 9.9;
      for (const reserve of plan.stages.flatMap(({ reserves }) => reserves))
        if (reserve.case === 'gravity') reserve.required = 9.9;
    }),
  ),
  mutation(
    'rests-stable',
    'the file wants the first part to lie on its other face',
    ({ weldment, ...rest }) => {
      const { part, handling: grips } = rest.plan.stages[0]!;
      const other = oppositeFace(grips[0]!.take.rest);
      const changed = weldment.parts.map((one) => (one.id === part ? { ...one, rest: other } : one));
      return { ...rest, weldment: { ...weldment, parts: changed } };
    },
  ),
  mutation(
    'handling-continuous',
    'a part in place that is said to lie on a face',
    inPlan((plan) => {
      plan.stages[0]!.handling.at(-1)!.put.rest = '-z';
    }),
  ),
  mutation(
    'handling-continuous',
    'a part that is put two millimetres aside',
    inPlan((plan) => {
      plan.stages.at(-1)!.handling.at(-1)!.put.part.at[0] += 2;
    }),
    ['reach'],
  ),
  mutation(
    'gripper-clear',
    'grippers as broad as the table',
    inCell((cell) => ({
      ...cell,
      grippers: cell.grippers.map((one) => ({
        ...one,
        envelope: { ...one.envelope, length: cell.table.size[0], width: cell.table.size[1] },
      })),
    })),
    ['torch-access'],
  ),
  mutation(
    'reach',
    'a flange that is turned by a third of a degree',
    inPlan((plan) => {
      const { take } = plan.stages[0]!.handling[0]!;
      const stated = take.joints.join();
      take.joints[5] += 0.33;
      for (const step of stepsOf(plan))
        if (step.do === 'move' && step.to.join() === stated) step.to = [...take.joints];
    }),
  ),
];

const tacks: readonly Mutation[] = [
  mutation(
    'tack-rules',
    'a tack with a thicker leg',
    inPlan((plan) => {
      const tack = plan.stages.flatMap((stage) => stage.tacks)[0];
      if (tack === undefined) return false;
      tack.leg += 1;
      return true;
    }),
  ),
  mutation(
    'torch-access',
    'a torch as thick as a barrel',
    inCell((cell) => ({
      ...cell,
      welder: { ...cell.welder, torch: { ...cell.welder.torch, nozzleRadius: 60, bodyRadius: 120 } },
    })),
  ),
  mutation(
    'magnet-distance',
    'magnets that must be half a metre away',
    inCell((cell) => ({ ...cell, grippers: cell.grippers.map((one) => ({ ...one, arcDistance: 500 })) })),
  ),
  mutation(
    'reserves-hold',
    'a reserve of disturbances that nothing has',
    inPlan((plan) => {
      plan.settings.reserves.disturbance = 9.99;
      for (const reserve of plan.stages.flatMap(({ reserves }) => reserves))
        if (reserve.case !== 'gravity') reserve.required = 9.99;
    }),
  ),
  mutation(
    'reserves-true',
    'a reserve that is stated too high',
    inPlan((plan) => {
      const reserve = plan.stages.flatMap(({ reserves }) => reserves).find((one) => one.reserve < 9);
      if (reserve === undefined) return false;
      reserve.reserve += 0.5;
      return true;
    }),
  ),
  mutation(
    'reserves-true',
    'a reserve that is not stated',
    inPlan((plan) => {
      plan.stages.at(-1)!.reserves.pop();
    }),
  ),
];

const running: readonly Mutation[] = [
  mutation(
    'programs-true',
    'a grip by another gripper than the stage has',
    inPlan((plan) => {
      const step = stepsOf(plan).find((one) => one.do === 'grip');
      if (step?.do !== 'grip') return false;
      step.gripper = 'stranger';
      return true;
    }),
  ),
  mutation(
    'programs-true',
    'a move that is left out',
    inPrograms((programs) => {
      const steps = programs[0]!.steps;
      const home = steps.findLastIndex((step) => step.do === 'move' && step.path === 'joint');
      if (home < 0) return false;
      steps.splice(home, 1);
      return true;
    }),
  ),
  mutation(
    'timeline-true',
    'a step that takes a second more',
    inPlan((plan) => {
      plan.programs[0]!.steps[0]!.end += 1;
    }),
  ),
  mutation(
    'timeline-true',
    'an activity after the end',
    inPlan((plan) => {
      const activity = plan.timeline.activities[0];
      if (activity === undefined) return false;
      activity.end = plan.timeline.makespan + 1;
      return true;
    }),
  ),
  mutation(
    'handshakes-safe',
    'a handshake that is left out',
    inPrograms((programs, plan) => {
      const gone = plan.handshakes.pop();
      if (gone === undefined) return false;
      for (const program of programs)
        program.steps = program.steps.filter(
          (step) => !((step.do === 'signal' || step.do === 'await') && step.handshake === gone.id),
        );
      return true;
    }),
  ),
  mutation(
    'handshakes-safe',
    'a wait for the tacks that comes after the let-go',
    inPrograms((programs) => {
      const steps = programs.flatMap((program) => program.steps);
      const holds = steps.flatMap((step) => (step.do === 'hold' ? [step.part] : []));
      for (const program of programs) {
        const letGo = program.steps.findIndex((step) => step.do === 'let-go' && holds.includes(step.part));
        if (letGo < 1 || program.steps[letGo - 1]!.do !== 'await') continue;
        program.steps.splice(letGo - 1, 2, program.steps[letGo]!, program.steps[letGo - 1]!);
        return true;
      }
      return false;
    }),
  ),
  mutation(
    'handshakes-safe',
    'a wait that comes before the signal that leads to it',
    inPlan((plan) => {
      for (const { steps } of plan.programs)
        for (let i = 1; i < steps.length; i += 1) {
          const [first, second] = [steps[i - 1]!, steps[i]!];
          if (first.do !== 'signal' || second.do !== 'await') continue;
          [first.handshake, second.handshake] = [second.handshake, first.handshake];
          return true;
        }
      return false;
    }),
    ['timeline-true'],
  ),
];

const claims: readonly Mutation[] = [
  mutation(
    'objective-true',
    'a tool change more than there are',
    inPlan((plan) => {
      const term = plan.objective.find((one) => one.term === 'tool-changes')!;
      term.value += 1;
      term.bound = Math.max(term.bound, term.value);
    }),
  ),
  mutation(
    'proof-true',
    'a bound above its value',
    inPlan((plan) => {
      const last = plan.objective.at(-1)!;
      last.bound = last.value + 1;
    }),
  ),
  mutation(
    'proof-true',
    'a proof of the last term alone',
    inPlan((plan) => {
      plan.proof.provedTerms = [plan.objective.at(-1)!.term];
      plan.proof.outcome = 'feasible';
    }),
  ),
];

/** At least one for each rule. */
export const MUTATIONS: readonly Mutation[] = [...parts, ...handling, ...tacks, ...running, ...claims];

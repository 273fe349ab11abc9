import { inCell, inPlan, inPoses, mutation, NOT_THERE, stepsOf, type Mutation } from './mutation.js';
import { DISTORTION } from './distortion-mutations.js';
import { FAULTS } from './fault-mutations.js';
import { CLAIMS, HANDSHAKES, ROOM, RUNNING } from './running-mutations.js';
import { STEPS } from './step-mutations.js';
import { TACK_ORDERS } from './tack-order-mutations.js';
import { WELDS } from './weld-mutations.js';

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
  mutation('wishes-true', 'the files have a wish that the plan does not state', ({ weldment, ...rest }) => {
    const { stages } = rest.plan;
    const about = { before: [stages[0]!.part, stages.at(-1)!.part] as [string, string] };
    const wishes = [...(weldment.wishes ?? []), { ...about, never: false, soft: false, weight: 1 }];
    return { ...rest, weldment: { ...weldment, wishes } };
  }),
  mutation(
    'wishes-true',
    'a wish that is not soft is broken and said to be kept',
    ({ weldment, ...rest }) => {
      const { stages } = rest.plan;
      const wish = { first: stages.at(-1)!.part, never: false, soft: false, weight: 1 };
      const stated = { wish, from: 'weldment' as const, kept: true };
      return { ...rest, plan: { ...rest.plan, wishes: [stated] }, weldment: { ...weldment, wishes: [wish] } };
    },
  ),
  mutation(
    'first-part-stands',
    'the first part is said to be tacked',
    inPlan((plan) => {
      plan.stages[0]!.stands = 'tacked';
    }),
    ['faults-end-safe'],
  ),
  mutation(
    'joined-to-weldment',
    'a later part is said to be clamped',
    inPlan((plan) => {
      plan.stages.at(-1)!.stands = 'clamped';
    }),
    ['faults-end-safe'],
  ),
  mutation('manual-stages', 'the last part shall be set by hand', ({ weldment, ...rest }) => {
    const last = rest.plan.stages.at(-1)!.part;
    const manual = { seconds: 300, within: 0.5 };
    const parts = weldment.parts.map((part) => (part.id === last ? { ...part, manual } : part));
    return { ...rest, weldment: { ...weldment, parts } };
  }),
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
    'table-turns',
    'a part that joins at an index angle of a table that stands still',
    inPlan((plan) => {
      plan.stages.at(-1)!.turn = 90;
    }),
  ),
  mutation(
    'approach-free',
    'the last part comes up through the table',
    inPlan((plan) => {
      const { approach } = plan.stages.at(-1)!;
      approach!.direction = [0, 0, 1];
      approach!.distance += 1000;
    }),
    ['reach', 'gripper-clear', 'approach-long-enough', 'reserves-true', 'rework-true'],
  ),
  mutation(
    'approach-long-enough',
    'the stroke of the last part is cut to a tenth',
    inPlan((plan) => {
      plan.stages.at(-1)!.approach!.distance /= 10;
    }),
    ['reach'],
  ),
  mutation(
    'grip-fits',
    'a gripper that is not in the cell',
    inPlan((plan) => {
      const gone = plan.stages[0]!.handling[0]!.grip.gripper;
      const grips = plan.stages.flatMap(({ handling, alsoHeld }) => [
        ...handling,
        ...(alsoHeld ? [alsoHeld] : []),
      ]);
      for (const { grip } of grips) if (grip.gripper === gone) grip.gripper = 'stranger';
      for (const step of stepsOf(plan)) {
        if (step.do === 'grip' && step.gripper === gone) step.gripper = 'stranger';
        if (step.do === 'change-gripper' && step.to === gone) step.to = 'stranger';
        if (step.do === 'move' && step.tool === gone) step.tool = 'stranger';
      }
      for (const tool of plan.frames.tools) if (tool.name === gone) tool.name = 'stranger';
    }),
  ),
  mutation(
    'grip-fits',
    'a group of pads that the gripper does not have',
    inPlan((plan) => {
      plan.stages[0]!.handling[0]!.grip.group = 'stranger';
      const grip = stepsOf(plan).find((step) => step.do === 'grip' && step.stage === 1);
      if (grip?.do === 'grip') grip.group = 'stranger';
    }),
  ),
  mutation(
    'grip-fits',
    'an arm that may not be turned so fast with any part',
    inCell((cell) => ({
      ...cell,
      handlers: cell.handlers.map((one) => ({
        ...one,
        payload: { ...one.payload, inertia: [9, 9, 1e-6] as const },
      })),
    })),
  ),
  mutation(
    'grip-fits',
    'magnets hotter than their grade allows',
    inCell((cell) => ({
      ...cell,
      grippers: cell.grippers.map((one) => (one.kind === 'magnet' ? { ...one, temperature: 81 } : one)),
    })),
    ['grip-carries', 'reserves-hold', 'reserves-true', 'proof-pull', 'distortion-true', 'tack-order-true'],
  ),
  mutation(
    'grip-fits',
    'an arm that carries less than a gripper',
    inCell((cell) => ({
      ...cell,
      handlers: cell.handlers.map((one) => ({ ...one, payload: { ...one.payload, mass: 1 } })),
    })),
  ),
  mutation(
    'grip-carries',
    'an emergency stop that no grip carries',
    inPlan((plan) => {
      plan.settings.loads['stop-acceleration'] = 500;
    }),
  ),
  mutation(
    'grip-carries',
    'a grip that is said to carry more',
    inPlan((plan) => {
      plan.stages[0]!.handling[0]!.carried.reserve += 0.5;
    }),
  ),
  mutation(
    'power-loss',
    'a loss of power that is not spoken of',
    inPlan((plan) => {
      const stage = plan.stages.find(({ powerLoss }) => powerLoss.length > 0);
      if (stage === undefined) return NOT_THERE;
      stage.powerLoss = [];
      return undefined;
    }),
  ),
  mutation(
    'proof-pull',
    'a pull that is less than the settings ask for',
    inPlan((plan) => {
      if (plan.stages.every(({ proofPull }) => proofPull === null)) return NOT_THERE;
      plan.settings.loads['proof-pull'] += 10;
      return undefined;
    }),
  ),
  mutation(
    'rests-stable',
    'the file wants the first part to lie on its other face',
    ({ weldment, ...rest }) => {
      const { part, handling: grips } = rest.plan.stages[0]!;
      const down = grips[0]!.take.rest;
      const other = `${down.startsWith('+') ? '-' : '+'}${down.slice(1)}`;
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
    ['torch-access', 'approach-free', 'arms-clear', 'rework-true'],
  ),
  mutation(
    'accuracy-met',
    'an infeed on which parts lie anywhere',
    inCell((cell) => ({ ...cell, infeed: { ...cell.infeed, accuracy: 20 } })),
  ),
  mutation(
    'accuracy-met',
    'a chain of errors that leaves out its largest',
    inPlan((plan) => {
      const { chain } = plan.stages.at(-1)!.accuracy[0]!;
      chain.splice(chain.indexOf(chain.reduce((a, b) => (b.mm > a.mm ? b : a))), 1);
    }),
  ),
  mutation(
    'accuracy-met',
    'a part that may sit as far off as it likes',
    inPlan((plan) => {
      plan.stages.at(-1)!.accuracy.find(({ direction }) => direction === 'in-plane')!.limit = 100;
    }),
  ),
  mutation(
    'reach',
    'a flange that is turned by a third of a degree',
    inPoses((plan) => {
      const { take } = plan.stages[0]!.handling[0]!;
      const stated = take.joints.join();
      take.joints[5] += 0.33;
      for (const step of stepsOf(plan))
        if (step.do === 'move' && step.stage === 1 && step.to.join() === stated) step.to = [...take.joints];
    }),
  ),
];

const tacks: readonly Mutation[] = [
  mutation(
    'tack-rules',
    'a tack with a thicker leg',
    inPoses((plan) => {
      const tack = plan.stages.flatMap((stage) => stage.tacks)[0];
      if (tack === undefined) return NOT_THERE;
      tack.leg += 1;
      return undefined;
    }),
    ['distortion-true', 'tack-order-true'],
  ),
  mutation(
    'tack-rules',
    'a tack said to carry load by the code although it is too short to count',
    inPoses((plan) => {
      const tack = plan.stages.flatMap((stage) => stage.tacks)[0];
      if (tack === undefined) return NOT_THERE;
      tack.codeReason = tack.codeReason === 'too-short' ? 'long-enough' : 'too-short';
      return undefined;
    }),
  ),
  mutation(
    'tack-rules',
    'a tack said to be cold as soon as it is laid',
    inPoses((plan) => {
      const tack = plan.stages.flatMap((stage) => stage.tacks)[0];
      if (tack === undefined) return NOT_THERE;
      tack.hot = { seconds: 0, temperature: 20, factor: 1 };
      return undefined;
    }),
  ),
  mutation(
    'tack-sides',
    'a tack said to have none opposite although one is there',
    inPoses((plan) => {
      const stage = plan.stages.find(({ tacks, sidesMissed }) => tacks.length > sidesMissed.length);
      const tack = stage?.tacks.find(({ id }) => !stage.sidesMissed.includes(id));
      if (stage === undefined || tack === undefined) return NOT_THERE;
      stage.sidesMissed.push(tack.id);
      return undefined;
    }),
  ),
  mutation(
    'torch-access',
    'a torch as thick as a barrel',
    inCell((cell) => ({
      ...cell,
      welders: cell.welders.map((welder) => ({
        ...welder,
        torch: { ...welder.torch, nozzleRadius: 60, bodyFrontRadius: 60, bodyRadius: 120 },
      })),
    })),
    ['arms-clear', 'rework-true'],
  ),
  mutation(
    'welding-position',
    'a tack that is said to be laid overhead',
    inPoses((plan) => {
      const tack = plan.stages.flatMap((stage) => stage.tacks)[0];
      if (tack === undefined) return NOT_THERE;
      tack.position = 'PE';
      return undefined;
    }),
  ),
  mutation(
    'welding-position',
    'a process that is set up for overhead tacks only',
    inCell((cell) => ({ ...cell, process: { ...cell.process, positions: { PE: {} } } })),
    ['rework-true'],
  ),
  mutation(
    'magnet-distance',
    'magnets that must be half a metre away',
    inCell((cell) => ({ ...cell, grippers: cell.grippers.map((one) => ({ ...one, arcDistance: 500 })) })),
    ['rework-true'],
  ),
  mutation(
    'reserves-hold',
    'a reserve of disturbances that nothing has',
    inPlan((plan) => {
      plan.settings.reserves.disturbance = 9.99;
      // Else transport would ask more of the grips than an emergency stop.
      plan.settings.loads['transport-acceleration'] = 0;
      for (const reserve of plan.stages.flatMap(({ reserves }) => reserves))
        if (!/^(gravity|proof pull)/.test(reserve.case)) reserve.required = 9.99;
    }),
  ),
  mutation(
    'reserves-true',
    'a reserve that is stated too high',
    inPlan((plan) => {
      const reserve = plan.stages.flatMap(({ reserves }) => reserves).find((one) => one.reserve < 9);
      if (reserve === undefined) return NOT_THERE;
      reserve.reserve += 0.5;
      return undefined;
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

/** At least one for each rule. */
export const MUTATIONS: readonly Mutation[] = [
  ...parts,
  ...handling,
  ...tacks,
  ...DISTORTION,
  ...TACK_ORDERS,
  ...RUNNING,
  ...HANDSHAKES,
  ...FAULTS,
  ...STEPS,
  ...ROOM,
  ...CLAIMS,
  ...WELDS,
];

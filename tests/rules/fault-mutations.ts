import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { inCell, inPlan, mutation, NOT_THERE, stepsOf, type Mutation } from './mutation.js';

type Accept = Extract<Step, { do: 'accept' }>;

/** The first step that has something to do when its tack is bad. */
const reworking = (plan: GeometricPlan): Accept | undefined =>
  stepsOf(plan).find((step): step is Accept => step.do === 'accept' && step.rework.length > 0);

/** A change of that step. */
const inRework = (change: (step: Accept) => unknown): Mutation['mutate'] =>
  inPlan((plan) => {
    const step = reworking(plan);
    return step === undefined ? NOT_THERE : change(step);
  });

/** What spoils what is said and done about things that go wrong. */
export const FAULTS: readonly Mutation[] = [
  mutation(
    'rework-true',
    'a bad tack that nothing is said of',
    inPlan((plan) => {
      const stage = plan.stages.find(({ rework }) => rework.length > 0);
      if (stage === undefined) return NOT_THERE;
      const { instead } = stage.rework.shift()!;
      for (const step of stepsOf(plan)) if (step.do === 'accept' && step.tack === instead) step.rework = [];
      return undefined;
    }),
    ['faults-end-safe'],
  ),
  mutation(
    'rework-true',
    'tacks that must be half a metre apart when one is laid instead of another',
    inPlan((plan) => {
      if (reworking(plan) === undefined) return NOT_THERE;
      plan.settings.tacks['rework-gap'] = 500;
      return undefined;
    }),
  ),
  mutation(
    'rework-true',
    'a rework after which the torch does not come back',
    inRework((step) => step.rework.pop()),
  ),
  mutation(
    'rework-true',
    'a rework that lets go of a part',
    inRework((step) => {
      const { stage, rework } = step;
      const at = { n: rework.length + 1, start: rework.at(-1)!.end, end: rework.at(-1)!.end, stage };
      rework.push({ ...at, do: 'let-go', part: 'anything', action: 'vent' });
    }),
  ),
  mutation(
    'rework-true',
    'a step of a rework that takes a second more',
    inRework((step) => {
      step.rework[0]!.end += 1;
    }),
  ),
  mutation(
    'arms-clear',
    'a rework whose way leads through the table',
    inRework((step) => {
      const move = step.rework.find((one) => one.do === 'move' && one.via === true);
      if (move?.do !== 'move') return NOT_THERE;
      move.path = 'joint';
      move.to = [move.to[0], move.to[1] + 60, ...move.to.slice(2)] as typeof move.to;
      return undefined;
    }),
    ['rework-true', 'steps-complete'],
  ),
  mutation(
    'faults-end-safe',
    'a fault more than there are',
    inPlan((plan) => {
      plan.safety.faultRows += 1;
    }),
  ),
  mutation(
    'faults-end-safe',
    'a table that leaves out what happens when power is lost',
    inPlan((plan) => {
      plan.safety.faults = plan.safety.faults.filter(({ fault }) => fault !== 'power-lost');
    }),
  ),
  mutation(
    'faults-end-safe',
    'a part that is said to be held when power is lost, by a gripper that keeps nothing',
    inCell((cell) => ({
      ...cell,
      grippers: cell.grippers.map((one) => ({
        ...one,
        powerLoss: { kind: 'must-stand' as const, seconds: 0 },
      })),
    })),
    ['power-loss', 'reserves-true', 'reserves-hold'],
  ),
];

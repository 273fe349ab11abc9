import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { inCell, inPlan, inPrograms, mutation, NOT_THERE, stepsOf, type Mutation } from './mutation.js';

/** A change of the first step of a kind. */
const inFirst = <K extends Step['do']>(
  kind: K,
  change: (step: Extract<Step, { do: K }>, plan: GeometricPlan) => unknown,
): Mutation['mutate'] =>
  inPlan((plan) => {
    const found = stepsOf(plan).find((step) => step.do === kind) as Extract<Step, { do: K }> | undefined;
    return found === undefined ? NOT_THERE : change(found, plan);
  });

/** What spoils what robot code is made of. */
export const STEPS: readonly Mutation[] = [
  mutation(
    'steps-complete',
    'a pose that is a tenth of a millimetre off',
    inFirst('move', (step) => {
      step.pose.at[2] += 0.1;
    }),
  ),
  mutation(
    'steps-complete',
    'a branch with the elbow the other way',
    inFirst('move', ({ branch }) => {
      branch.elbow = branch.elbow === 'up' ? 'down' : 'up';
    }),
  ),
  mutation(
    'steps-complete',
    'an axis that is said to be a turn on',
    inFirst('move', ({ branch }) => {
      branch.turns = [0, 0, 0, 0, 0, 1];
    }),
  ),
  mutation(
    'steps-complete',
    'a joint move at a third of the speed',
    inFirst('move', (step) => {
      step.speed = 0.3;
    }),
  ),
  mutation(
    'steps-complete',
    'a gripper that is told to blow when it should close, or the other way round',
    inFirst('let-go', (step) => {
      step.action = step.action === 'blow-off' ? 'jaw-open' : 'blow-off';
    }),
  ),
  mutation(
    'steps-complete',
    'an arc that starts five millimetres aside',
    inFirst('tack', ({ from }) => {
      from.at[0] += 5;
    }),
  ),
  mutation(
    'steps-complete',
    'an arc of other seam data than its position has',
    inFirst('tack', ({ arc }) => {
      arc.voltage += 1;
    }),
  ),
  mutation(
    'steps-complete',
    'a process of more current than the steps state',
    inCell((cell) => ({ ...cell, process: { ...cell.process, current: cell.process.current + 10 } })),
  ),
  mutation(
    'steps-complete',
    'a torch whose tip is elsewhere',
    inPlan(({ frames }) => {
      frames.tools.find(({ kind }) => kind === 'torch')!.pose.at[0] += 1;
    }),
  ),
  mutation(
    'steps-complete',
    'a work frame that is used and not stated',
    inPlan(({ frames }) => {
      frames.works = frames.works.filter(({ name }) => name !== 'weldment');
    }),
  ),
  mutation(
    'steps-complete',
    'a program that is said to be taken up again in the middle of a move',
    inFirst('let-go', (_, plan) => {
      stepsOf(plan).find((step) => step.do === 'move' && step.path === 'straight')!.resume = true;
    }),
  ),
  mutation(
    'hand-over-last',
    'a hand-over that does not wait for the tacks',
    inPrograms((programs, plan) => {
      const [handler] = programs;
      const at = handler!.steps.findIndex((step) => step.do === 'hand-over');
      const wait = handler!.steps[at - 1];
      if (wait?.do !== 'await') return NOT_THERE;
      for (const program of programs)
        program.steps = program.steps.filter(
          (step) => !('handshake' in step && step.handshake === wait.handshake),
        );
      plan.handshakes = plan.handshakes.filter(({ id }) => id !== wait.handshake);
      return undefined;
    }),
  ),
  mutation(
    'programs-true',
    'a wire that is not asked after',
    inPrograms((programs) => {
      for (const program of programs)
        program.steps = program.steps.filter((step) => step.do !== 'wire-check');
    }),
  ),
  mutation(
    'timeline-true',
    'sensors that take a second to answer',
    inCell((cell) => ({ ...cell, times: { ...cell.times, partPresent: 1 } })),
  ),
  mutation(
    'programs-true',
    'a move at the infeed that is taught in the cell',
    inPlan((plan) => {
      const [move] = stepsOf(plan).filter((step) => step.do === 'move' && step.frame === 'infeed');
      if (move?.do !== 'move') return NOT_THERE;
      move.frame = 'cell';
      return undefined;
    }),
    ['steps-complete'],
  ),
];

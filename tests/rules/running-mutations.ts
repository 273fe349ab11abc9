import type { GeometricPlan, Handshake } from '../../src/model/plan.js';
import { inCell, inPlan, inPrograms, mutation, NOT_THERE, stepsOf, type Mutation } from './mutation.js';

/** What spoils the programs, their times and handshakes. */
export const RUNNING: readonly Mutation[] = [
  mutation(
    'programs-true',
    'a grip by another gripper than the stage has',
    inPlan((plan) => {
      const step = stepsOf(plan).find((one) => one.do === 'grip');
      if (step?.do !== 'grip') return NOT_THERE;
      step.gripper = 'stranger';
      return undefined;
    }),
  ),
  mutation(
    'programs-true',
    'a move that is left out',
    inPrograms((programs) => {
      const steps = programs[0]!.steps;
      const home = steps.findLastIndex((step) => step.do === 'move' && step.path === 'joint');
      if (home < 0) return NOT_THERE;
      steps.splice(home, 1);
      return undefined;
    }),
    ['arms-clear'],
  ),
  mutation(
    'programs-true',
    'a tack that the handling robot shall lay',
    inPlan((plan) => {
      const tack = plan.stages.flatMap(({ tacks }) => tacks).find(({ phase }) => phase === 'completing');
      if (tack === undefined) return NOT_THERE;
      tack.robot = plan.programs[0]!.robot;
      return undefined;
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
    'grippers that take a second longer to let go',
    inCell((cell) => ({ ...cell, grippers: cell.grippers.map((one) => ({ ...one, releaseSeconds: 1 })) })),
  ),
  mutation(
    'timeline-true',
    'an activity after the end',
    inPlan((plan) => {
      const activity = plan.timeline.activities[0];
      if (activity === undefined) return NOT_THERE;
      activity.end = plan.timeline.makespan + 1;
      return undefined;
    }),
  ),
  mutation(
    'handshakes-safe',
    'a handshake that is left out',
    inPrograms((programs, plan) => {
      const handsOver = programs.flatMap(({ steps }) => {
        const wait = steps[steps.findIndex((step) => step.do === 'hand-over') - 1];
        return wait?.do === 'await' ? [wait.handshake] : [];
      });
      const gone = plan.handshakes.findLast(({ id }) => !handsOver.includes(id));
      if (gone === undefined) return NOT_THERE;
      plan.handshakes = plan.handshakes.filter((one) => one !== gone);
      for (const program of programs)
        program.steps = program.steps.filter(
          (step) => !((step.do === 'signal' || step.do === 'await') && step.handshake === gone.id),
        );
      return undefined;
    }),
    ['arms-clear', 'faults-end-safe', 'hand-over-last'],
  ),
  mutation(
    'handshakes-safe',
    'a wait for the tacks that comes after the let-go',
    inPrograms((programs) => {
      const steps = programs.flatMap((program) => program.steps);
      const holds = steps.flatMap((step) => (step.do === 'hold' ? [step.part] : []));
      for (const program of programs) {
        const letGo = program.steps.findIndex((step) => step.do === 'let-go' && holds.includes(step.part));
        const begin = program.steps[letGo - 1]?.do === 'proof-pull' ? letGo - 1 : letGo;
        const wait = program.steps[begin - 1];
        if (wait?.do !== 'await') continue;
        program.steps.splice(letGo, 1, program.steps[letGo]!, wait);
        program.steps.splice(begin - 1, 1);
        return undefined;
      }
      return NOT_THERE;
    }),
    ['arms-clear', 'faults-end-safe'],
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
          return undefined;
        }
      return NOT_THERE;
    }),
    ['timeline-true'],
  ),
  mutation(
    'handshakes-safe',
    'a signal that nobody waits for',
    inPrograms((programs, plan) => {
      const id = plan.handshakes[0]?.id;
      if (id === undefined) return NOT_THERE;
      for (const program of programs)
        program.steps = program.steps.filter((step) => step.do !== 'await' || step.handshake !== id);
      return undefined;
    }),
    ['handshakes-true', 'arms-clear'],
  ),
  mutation(
    'handshakes-safe',
    'a second witness that is said to have seen more',
    inPlan((plan) => {
      plan.safety.witness.states += 1;
    }),
  ),
];

/** A change of the first handshake of a plan. */
const inHandshake = (change: (handshake: Handshake, plan: GeometricPlan) => unknown): Mutation['mutate'] =>
  inPlan((plan) => (plan.handshakes[0] ? change(plan.handshakes[0], plan) : NOT_THERE));

/** What spoils the list of handshakes. */
export const HANDSHAKES: readonly Mutation[] = [
  mutation(
    'handshakes-true',
    'two handshakes of one name',
    inPlan(({ handshakes: [first, second] }) => {
      if (!first || !second) return NOT_THERE;
      second.name = first.name;
      return undefined;
    }),
  ),
  mutation(
    'handshakes-true',
    'another kind than the settings ask for',
    inHandshake((handshake) => {
      handshake.kind = 'four-phase';
      handshake.line = 1;
    }),
    ['handshakes-safe'],
  ),
  mutation(
    'handshakes-true',
    'a line of a handshake that has a flag of its own',
    inHandshake((handshake) => {
      handshake.line = 1;
    }),
  ),
  mutation(
    'handshakes-true',
    'a wait longer than the settings ask for',
    inHandshake((handshake) => {
      handshake.timeLimit += 1;
    }),
  ),
  mutation(
    'handshakes-true',
    'a robot that is said to wait with its torch at the weldment',
    inHandshake((handshake) => {
      handshake.waiting = 'torch-near';
    }),
  ),
  mutation(
    'handshakes-true',
    'a handshake more than there are',
    inPlan(({ handshakeSet }) => {
      handshakeSet.afterResynchronisation += 1;
      handshakeSet.afterReduction += 1;
      handshakeSet.required += 1;
    }),
  ),
  mutation(
    'handshakes-true',
    'a handshake that says what another says',
    inPrograms((programs, plan) => {
      const [first] = plan.handshakes;
      if (first === undefined) return NOT_THERE;
      plan.handshakes.push({
        ...first,
        from: { ...first.from },
        to: { ...first.to },
        id: 'again',
        name: 'again',
      });
      for (const program of programs)
        program.steps = program.steps.flatMap((step) =>
          (step.do === 'signal' || step.do === 'await') && step.handshake === first.id
            ? [step, { ...step, start: step.end, handshake: 'again' }]
            : [step],
        );
      const set = plan.handshakeSet;
      set.afterReduction += 1;
      set.required += 1;
      return undefined;
    }),
  ),
  mutation(
    'handshakes-true',
    'a protocol of handshakes that have none',
    inPlan(({ handshakeSet }) => {
      handshakeSet.protocol.push('raise and drop');
    }),
  ),
  mutation(
    'handshakes-true',
    'a property that nobody proves',
    inPlan(({ safety }) => {
      safety.properties.push('nothing ever breaks');
    }),
  ),
];

/** What spoils the room that arms leave. */
export const ROOM: readonly Mutation[] = [
  mutation(
    'arms-clear',
    'links as thick as barrels',
    inCell((cell) => ({
      ...cell,
      handlers: cell.handlers.map((one) => ({ ...one, radii: { ...one.radii, forearm: 400, wrist: 300 } })),
    })),
  ),
  mutation(
    'arms-clear',
    'a clearance that nobody keeps',
    inPlan((plan) => {
      plan.settings.motion.clearance = 300;
    }),
  ),
];

/** What spoils the claims of a plan about itself. */
export const CLAIMS: readonly Mutation[] = [
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
    'whole-true',
    'totals with a regrip more than there are',
    inPlan((plan) => {
      const objective = plan.objective.map(({ term, value }) => ({
        ...{ term, value: value + (term === 'regrips' ? 1 : 0) },
      }));
      plan.whole = { asked: 'auto', objective, changesBetween: 0 };
    }),
  ),
  mutation(
    'whole-true',
    'a gripper changed between plans of which there is one',
    inPlan((plan) => {
      const objective = plan.objective.map(({ term, value }) => ({ term, value }));
      plan.whole = { asked: 'auto', objective, changesBetween: 1 };
    }),
  ),
  mutation(
    'whole-true',
    'a plan in one piece that costs less and was not taken',
    inPlan((plan) => {
      const objective = plan.objective.map(({ term, value }) => ({ term, value }));
      const less = objective.map(({ term, value }) => ({ term, value: term === 'time' ? value - 1 : value }));
      plan.whole = { asked: 'auto', objective, changesBetween: 0 };
      plan.whole.inOnePiece = { outcome: 'planned', objective: less };
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

import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { exploredWitness } from '../../src/rules/run-witness.js';
import { waitingAfter } from '../../src/rules/waiting.js';

const toMilliseconds = (seconds: number): number => Math.round(seconds * 1000) / 1000;

/** Runs the programs with each step as long as it was, waits as long as they must; false when they block. */
function run(programs: GeometricPlan['programs']): boolean {
  const seconds = programs.map(({ steps }) => steps.map(({ start, end }) => end - start));
  const next = programs.map(() => 0);
  const clock = programs.map(() => 0);
  const given = new Map<string, number>();
  for (let moved = true; moved;) {
    moved = false;
    programs.forEach(({ steps }, p) => {
      for (let step = steps[next[p]!]; step !== undefined; step = steps[next[p]!]) {
        if (step.do === 'await' && !given.has(step.handshake)) return;
        const until = step.do === 'await' ? given.get(step.handshake)! : clock[p]! + seconds[p]![next[p]!]!;
        step.start = toMilliseconds(clock[p]!);
        clock[p] = Math.max(clock[p]!, until);
        step.end = toMilliseconds(clock[p]!);
        if (step.do === 'signal') given.set(step.handshake, clock[p]!);
        next[p]! += 1;
        moved = true;
      }
    });
  }
  return programs.every(({ steps }, p) => next[p] === steps.length);
}

/** Where a handshake is given or awaited now; where it was if nowhere. */
function endOf(
  programs: GeometricPlan['programs'],
  kind: 'signal' | 'await',
  id: string,
  was: { robot: string; step: number },
): { robot: string; step: number } {
  for (const { robot, steps } of programs)
    for (const step of steps) if (step.do === kind && step.handshake === id) return { robot, step: step.n };
  return was;
}

/**
 * A plan whose steps were added, dropped or moved, with step numbers, waiting places, times, handshakes, makespan and the objective's
 * time made to fit again. Joint moves keep their length, so only moves that end where the next begins may be dropped.
 */
export function rebuilt(plan: GeometricPlan): GeometricPlan {
  for (const { steps } of plan.programs) {
    let at = 'home';
    steps.forEach((step: Step, i) => {
      step.n = i + 1;
      if (step.do === 'move') at = step.place;
      if (step.do === 'await') step.at = at;
    });
  }
  if (!run(plan.programs)) throw new Error('the mutated programs block; do not rebuild them');
  for (const handshake of plan.handshakes) {
    handshake.from = endOf(plan.programs, 'signal', handshake.id, handshake.from);
    handshake.to = endOf(plan.programs, 'await', handshake.id, handshake.to);
    const { robot, step } = handshake.to;
    const receiver = plan.programs.find((program) => program.robot === robot);
    if (receiver) handshake.waiting = waitingAfter(receiver.duty, receiver.steps.slice(0, step - 1)).waiting;
  }
  plan.handshakeSet.afterResynchronisation = plan.handshakes.length;
  plan.safety.witness = exploredWitness(plan);
  const makespan = Math.max(...plan.programs.map(({ steps }) => steps.at(-1)?.end ?? 0));
  plan.timeline.makespan = makespan;
  plan.timeline.bound = Math.min(plan.timeline.bound, makespan);
  for (const activity of plan.timeline.activities) {
    activity.end = Math.min(activity.end, makespan);
    activity.start = Math.min(activity.start, activity.end);
  }
  const time = plan.objective.find(({ term }) => term === 'time');
  if (time !== undefined) {
    const proved = time.bound === time.value;
    time.value = Math.ceil(makespan * 10 - 1e-6);
    time.bound = proved ? time.value : Math.min(time.bound, time.value);
  }
  return plan;
}

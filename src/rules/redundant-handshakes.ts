import type { Program } from '../algorithms/concurrent-program.js';
import { happensBefore } from '../algorithms/happens-before.js';
import type { GeometricPlan } from '../model/plan.js';
import { eventsOf, runOf } from './program-run.js';

/** For every event that is neither signal nor wait, how many such events of each program are surely over before it. */
function ordersOf(programs: readonly Program[]): readonly (readonly number[])[] | undefined {
  const order = happensBefore(programs);
  if (!order.ok) return undefined;
  const real = programs.map((events) => {
    const counts = [0];
    for (const { kind } of events) counts.push(counts.at(-1)! + (kind === 'do' ? 1 : 0));
    return counts;
  });
  return programs.flatMap((events, program) =>
    events.flatMap(({ kind }, event) =>
      kind === 'do' ? [order.value.past([{ program, event }]).map((position, p) => real[p]![position]!)] : [],
    ),
  );
}

const without = (programs: readonly Program[], signal: string): Program[] =>
  programs.map((events) => events.filter((event) => event.kind === 'do' || event.signal !== signal));

/** Places in the list of handshakes without which the steps are in the same order in every run. */
export function redundantHandshakes(plan: GeometricPlan): readonly number[] {
  const programs = eventsOf(runOf(plan));
  const all = JSON.stringify(ordersOf(programs));
  return plan.handshakes.flatMap(({ id }, i) =>
    all !== undefined && JSON.stringify(ordersOf(without(programs, id))) === all ? [i] : [],
  );
}

import { criticalChain, type CriticalRun } from '../explain/difference/critical-chain.js';
import type { GeometricPlan } from '../model/plan.js';
import { counted, duration, nearestTenths, tenthsOf } from './numbers.js';
import { plain } from './plain.js';
import { paragraph } from './text-table.js';

type Timed = Pick<GeometricPlan, 'timeline' | 'programs'>;

/** What is proved of the makespan. */
export function makespanText({ timeline: { makespan, bound, choices } }: Timed): string {
  const who = choices === 0 ? '' : `, over ${counted(choices, 'choice')} of who goes first`;
  const scope = `for this order of the parts and these steps${who}`;
  const gap = tenthsOf(makespan) - tenthsOf(bound);
  return gap <= 0
    ? `${duration(tenthsOf(makespan))}, least ${scope}.`
    : `${duration(tenthsOf(makespan))}, at least ${duration(tenthsOf(bound))} ${scope}: a gap of ${duration(gap)}.`;
}

/** What one robot after the other does on the critical path, stages as numbers. */
const chainText = (runs: readonly CriticalRun[]): string =>
  runs
    .map(({ robot, what }) => {
      const steps = what.map(({ what: text, stage }) =>
        stage > 0 ? `${plain(text)} ${stage}` : plain(text),
      );
      return `${plain(robot)}: ${steps.join(', ')}`;
    })
    .join('; ');

/** Where each robot waits, and for how long in all. */
export function waitingText({ programs }: Timed): string {
  return programs
    .flatMap(({ robot, steps }) => {
      const at = new Map<string, number>();
      for (const step of steps)
        if (step.do === 'await' && step.end > step.start)
          at.set(step.at, (at.get(step.at) ?? 0) + step.end - step.start);
      const places = [...at].map(([place, seconds]) => `${plain(place)} ${duration(nearestTenths(seconds))}`);
      return places.length === 0 ? [] : [`${plain(robot)} at ${places.join(', at ')}`];
    })
    .join('; ');
}

/** Makespan with its bound, the critical path (stages as numbers), and where the robots wait. */
export function criticalLines(plan: Timed): string[] {
  const path = chainText(criticalChain(plan));
  const waiting = waitingText(plan);
  return [
    ...paragraph('Makespan: ', makespanText(plan)),
    ...(path === '' ? [] : paragraph('Critical path: ', `${path}.`)),
    ...(waiting === '' ? [] : paragraph('Waiting positions: ', `${waiting}.`)),
  ];
}

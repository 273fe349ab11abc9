import type { GeometricPlan, Step } from '../model/plan.js';
import { reworkOf } from './rework-steps.js';

type Programs = GeometricPlan['programs'];

/** How many columns a step takes: one, and one for each step of its rework. */
const width = (step: Step): number => 1 + reworkOf(step).reduce((sum, inner) => sum + width(inner), 0);

/**
 * A column of the drawing for each step of each program, counted from 0. All robots take their next step in each
 * column, but one that awaits a signal takes it only to the right of where it is sent. Where they would wait for
 * ever, as in a plan that is wrong, all go on.
 */
export function programColumns(programs: Programs): readonly (readonly number[])[] {
  const columns: number[][] = programs.map(() => []);
  const free = programs.map(() => 0);
  const sent = new Set<string>();
  const next = (robot: number): Step | undefined => programs[robot]!.steps[columns[robot]!.length];
  for (let column = 0; ; column += 1) {
    const due = programs.flatMap((_, robot) => (next(robot) === undefined ? [] : [robot]));
    if (due.length === 0) return columns;
    const ready = due.filter((robot) => free[robot]! <= column && mayGo(next(robot)!, sent));
    const stuck = ready.length === 0 && due.every((robot) => free[robot]! <= column);
    const taken = (stuck ? due : ready).map((robot) => [robot, next(robot)!] as const);
    for (const [robot, step] of taken) {
      columns[robot]!.push(column);
      free[robot] = column + width(step);
      if (step.do === 'signal') sent.add(step.handshake);
    }
  }
}

const mayGo = (step: Step, sent: ReadonlySet<string>): boolean =>
  step.do !== 'await' || sent.has(step.handshake);

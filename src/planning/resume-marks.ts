import type { Handler, Welder } from '../model/cell.js';
import type { TimedStep } from './bare-step.js';
import { statedJoints } from './steps.js';

/**
 * For each step of a robot whether a stopped program may be taken up again at it: the robot is at home with nothing in
 * hand and in no zone, or it holds a part still in its place. No signal is such a step, since it would be given twice.
 */
export function resumeMarks(robot: Handler | Welder, steps: readonly TimedStep[]): readonly boolean[] {
  const home = statedJoints(robot.home).join();
  let atHome = true;
  let carries = false;
  let holds = false;
  let zones = 0;
  return steps.map((step) => {
    const rests = holds || (atHome && !carries && zones === 0);
    if (step.do === 'move') atHome = step.to.join() === home;
    if (step.do === 'tack') atHome = false;
    if (step.do === 'grip') carries = true;
    if (step.do === 'set-down' || step.do === 'let-go') carries = false;
    if (step.do === 'enter') zones += 1;
    if (step.do === 'leave') zones -= 1;
    if (step.do === 'hold') holds = true;
    else if (step.do !== 'signal' && step.do !== 'await') holds = false;
    return rests && step.do !== 'signal';
  });
}

import type { Handler, Welder } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { Step } from '../model/plan.js';
import { toDegrees } from '../kinematics/arm.js';
import { carryings } from './arm-stays.js';
import { breach } from './rule.js';

/** Joints at home are stated with this rounding, degrees. */
const ROUNDING = 1e-3;

const ordersOnly = ({ do: what }: Step): boolean => what === 'signal' || what === 'await';

/** Whether the robot rests at home, empty-handed and out of all zones, when a step begins. */
export function restsAtHome({ home }: Handler | Welder, steps: readonly Step[], i: number): boolean {
  const before = steps.slice(0, i);
  const last = before.findLast((step) => step.do === 'move' || step.do === 'tack');
  const there =
    last === undefined ||
    (last.do === 'move' && last.to.every((value, k) => Math.abs(value - toDegrees(home[k]!)) <= ROUNDING));
  const count = (what: Step['do']): number => before.filter((step) => step.do === what).length;
  const carries = carryings(steps).some(({ grip, release }) => grip < i && i <= release);
  return there && !carries && count('enter') === count('leave');
}

/** Whether the robot holds a part still when a step begins: since the hold it has only given signals or waited. */
const holdsStill = (steps: readonly Step[], i: number): boolean =>
  steps.slice(0, i).findLast((step) => !ordersOnly(step))?.do === 'hold';

/** Marks `resume` that are missing or false: where the robot rests a stopped program may be taken up again, else not. */
export function resumeFindings(
  rule: string,
  robot: Handler | Welder,
  steps: readonly Step[],
  where: string,
): Finding[] {
  return steps.flatMap((step, i) => {
    const may = step.do !== 'signal' && (holdsStill(steps, i) || restsAtHome(robot, steps, i));
    if (may === (step.resume === true)) return [];
    const why = may ? 'may be taken up again at, and does not say so' : 'may not be taken up again at';
    const message = `step ${step.n} of ${robot.id} (${step.do}) is one that a stopped program ${why}`;
    return [breach(rule, `${where}[${i}].resume`, message)];
  });
}

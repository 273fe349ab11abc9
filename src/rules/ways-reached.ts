import { robotsOf } from '../model/cell.js';
import { toDegrees } from '../kinematics/arm.js';
import type { Finding } from '../model/finding.js';
import type { Step } from '../model/plan.js';
import { isStraightLeg } from './arm-steps.js';
import type { RuleContext } from './rule.js';
import { jointFindings, strokeFindings } from './stated-reach.js';
import { endOfStep, tacksByName } from './step-times.js';

/**
 * Via points and cleaners of nozzles past a limit, and straight moves to or from one that the arm cannot follow in one branch. Joint moves
 * between joints inside the limits stay there, since each limit is a range; nothing is asked of the wrist in them.
 */
export function wayFindings(rule: string, { cell, plan }: RuleContext): Finding[] {
  const tacks = tacksByName(plan);
  return plan.programs.flatMap(({ robot: name, steps }, p) => {
    const robot = robotsOf(cell).find(({ id }) => id === name);
    if (robot === undefined) return [];
    let at: readonly number[] = robot.home.map(toDegrees);
    let before: Step | undefined;
    return steps.flatMap((step, i) => {
      const [from, end, last] = [at, endOfStep(step, tacks), before];
      at = end?.map(toDegrees) ?? at;
      if (step.do !== 'move') return [];
      before = step;
      const to = { where: `programs[${p}].steps[${i}].to`, joints: step.to };
      const straight = isStraightLeg(step, last);
      const cleans = steps[i + 1]?.do === 'clean-nozzle';
      const own = step.via || straight || cleans ? jointFindings(rule, robot, to, straight) : [];
      if (own.length > 0 || !straight) return own;
      return strokeFindings(rule, robot, { joints: from }, to);
    });
  });
}

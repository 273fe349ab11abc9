import { happensBefore } from '../algorithms/happens-before.js';
import { robotsOf } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import { programsOf } from './arm-steps.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { runEvents } from './run-events.js';

const ID = 'hand-over-last';

function judge({ plan, cell }: RuleContext): Finding[] {
  const programs = programsOf(plan, robotsOf(cell));
  if (programs === undefined) return [];
  const runs = programs.map(({ steps }) => runEvents(steps));
  const order = happensBefore(runs.map(({ events }) => events));
  if (!order.ok) return [];
  return programs.flatMap(({ robot, steps }, program) =>
    steps.flatMap((step, i) => {
      if (step.do !== 'hand-over') return [];
      const event = runs[program]!.first[i]!;
      const late = programs.filter((_, other) => {
        const last = runs[other]!.events.findLastIndex(({ kind }) => kind === 'do');
        const done = { program: other, event: last };
        return other !== program && last >= 0 && !order.value.before(done, { program, event });
      });
      const where = `programs[${plan.programs.indexOf(programs[program]!)}].steps[${i}]`;
      return late.map((other) =>
        breach(
          ID,
          where,
          `step ${step.n} of ${robot}: nothing makes ${other.robot} be done before the hand-over`,
        ),
      );
    }),
  );
}

/** The finished tack-up is handed over only when every other robot has done its last step, whatever the speeds. */
export const handOverLast: Rule = {
  id: ID,
  forbids: 'a hand-over that another robot may still be working at',
  why: 'whoever lifts out the tack-up stands or reaches where the robots were a moment ago',
  judge,
};

import { robotsOf } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { GeometricPlan, Step } from '../model/plan.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stepTimes } from './step-times.js';

const ID = 'timeline-true';

/** Times are rounded to a millisecond at both ends of a step, s. */
const ROUNDING = 2e-3;

type Program = GeometricPlan['programs'][number];

const differs = (a: number, b: number): boolean => !(Math.abs(a - b) <= ROUNDING);

/** When each handshake is given, by the end of the step that gives it. */
function signalEnds(plan: GeometricPlan): ReadonlyMap<string, number> {
  const ends = new Map<string, number>();
  for (const { steps } of plan.programs)
    for (const step of steps)
      if (step.do === 'signal' && !ends.has(step.handshake)) ends.set(step.handshake, step.end);
  return ends;
}

/** When a step should end; undefined when that cannot be said. */
function endOf(
  step: Step,
  seconds: number | undefined,
  signals: ReadonlyMap<string, number>,
): number | undefined {
  if (step.do !== 'await') return seconds === undefined ? undefined : step.start + seconds;
  const given = signals.get(step.handshake);
  return given === undefined ? undefined : Math.max(step.start, given);
}

function programFindings(context: RuleContext, program: Program, p: number): Finding[] {
  const { plan, cell } = context;
  const robot = robotsOf(cell).find(({ id }) => id === program.robot);
  if (robot === undefined) return [];
  const seconds = stepTimes(cell, robot, plan, program.steps);
  const signals = signalEnds(plan);
  let free = 0;
  let at = 'home';
  return program.steps.flatMap((step, i) => {
    const where = `programs[${p}].steps[${i}]`;
    const findings: Finding[] = [];
    if (differs(step.start, free))
      findings.push(
        breach(
          ID,
          `${where}.start`,
          `step ${step.n} of ${program.robot} starts at ${shown(step.start)} s; the one before ends at ${shown(free)}`,
          { value: step.start, limit: free },
        ),
      );
    if (step.do === 'await' && step.at !== at)
      findings.push(
        breach(
          ID,
          `${where}.at`,
          `step ${step.n} of ${program.robot} waits at ${step.at}, but it stands at ${at}`,
        ),
      );
    if (step.do === 'move') at = step.place;
    const end = endOf(step, seconds[i], signals);
    if (end !== undefined && differs(step.end, end))
      findings.push(
        breach(
          ID,
          `${where}.end`,
          `step ${step.n} of ${program.robot} (${step.do}) ends at ${shown(step.end)} s instead of ${shown(end)}`,
          { value: step.end, limit: end },
        ),
      );
    free = step.end;
    return findings;
  });
}

function activityFindings({ plan, cell }: RuleContext): Finding[] {
  const { makespan, activities } = plan.timeline;
  const robots = robotsOf(cell).map(({ id }) => id);
  return activities.flatMap(({ robot, what, start, end }, i) => {
    const where = `timeline.activities[${i}]`;
    if (!robots.includes(robot)) return [breach(ID, `${where}.robot`, `robot ${robot} is not in the cell`)];
    if (start <= end && end <= makespan + ROUNDING) return [];
    const message = `${what} lasts from ${shown(start)} to ${shown(end)} s, not inside 0 to ${shown(makespan)}`;
    return [breach(ID, where, message, { value: end, limit: makespan })];
  });
}

function judge(context: RuleContext): Finding[] {
  const { plan } = context;
  const last = Math.max(0, ...plan.programs.map(({ steps }) => steps.at(-1)?.end ?? 0));
  const { makespan, bound } = plan.timeline;
  const above =
    bound > makespan + ROUNDING
      ? [
          breach(
            ID,
            'timeline.bound',
            `the bound is ${shown(bound)} s, above the makespan of ${shown(makespan)}`,
            {
              value: bound,
              limit: makespan,
            },
          ),
        ]
      : [];
  const span = differs(makespan, last)
    ? [
        breach(
          ID,
          'timeline.makespan',
          `the makespan is ${shown(makespan)} s; the last step ends at ${shown(last)}`,
          {
            value: makespan,
            limit: last,
          },
        ),
      ]
    : [];
  return [
    ...plan.programs.flatMap((program, p) => programFindings(context, program, p)),
    ...span,
    ...above,
    ...activityFindings(context),
  ];
}

/** Steps follow one another without gap, last as long as the cell's speeds and times say, and end with the makespan. */
export const timelineTrue: Rule = {
  id: ID,
  forbids:
    'steps that overlap, leave gaps or last other than the cell says, waits that end before their signal',
  why: 'a makespan that the cell cannot keep misleads whoever compares plans or feeds the line',
  judge,
};

import { robotsOf } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { PlanTack, Stage } from '../model/plan.js';
import { laying, Moves, type ExpectedStep } from './expected-steps.js';
import { firstDifference } from './programs-true.js';
import { asProgram, reworksOf, type ProgramRework } from './rework-replay.js';
import { breach, shown, type RuleContext } from './rule.js';
import { stepTimes } from './step-times.js';
import { wayFindings } from './ways-reached.js';

/** Times are rounded to a millisecond at both ends of a step, s. */
const ROUNDING = 2e-3;

/** The steps that lay a tack instead of a bad one and lead back: nothing else, so no signal, zone or let-go. */
function expectedFor({ cell }: RuleContext, { bad, other, stage, robot }: Known): readonly ExpectedStep[] {
  const welder = cell.welders.find(({ id }) => id === robot);
  if (welder === undefined) return [];
  const moves = new Moves(welder, welder.torch.id);
  const back = moves.joint(bad.torch.leave, 'weldment');
  return [...laying(other, false, moves), back].map((draft) => ({ ...draft, stage: stage.number }));
}

/** A rework with the tacks that it is about. */
interface Known {
  readonly rework: ProgramRework;
  readonly bad: PlanTack;
  readonly other: PlanTack;
  readonly stage: Stage;
  /** Whose program it is in. */
  readonly robot: string;
}

function stepFinding(rule: string, context: RuleContext, known: Known, where: string): Finding[] {
  const { rework, bad } = known;
  const real = rework.steps.map((step, i) => ({ step, i }));
  const expected = expectedFor(context, known);
  const found = firstDifference(real, expected);
  if ('wrong' in found) {
    const { step, i } = found.at;
    return [breach(rule, `${where}[${i}]`, `step ${step.n} of the rework of ${bad.id}: ${found.wrong}`)];
  }
  if (found.done === expected.length) return [];
  const next = expected[found.done]!;
  return [breach(rule, where, `the rework of ${bad.id} stops before its ${next.do}`)];
}

/** Numbers from 1 and seconds from 0, each step as long as the cell says. */
function timeFinding(
  rule: string,
  context: RuleContext,
  { rework, bad }: Known,
  p: number,
  where: string,
): Finding[] {
  const { plan, cell } = context;
  const robot = robotsOf(cell).find(({ id }) => id === plan.programs[p]!.robot)!;
  const [, ...seconds] = stepTimes(cell, robot, plan, asProgram(rework));
  let free = 0;
  for (const [i, { n, start, end }] of rework.steps.entries()) {
    const wanted = start + (seconds[i] ?? end - start);
    const right = n === i + 1 && Math.abs(start - free) <= ROUNDING && Math.abs(end - wanted) <= ROUNDING;
    if (!right) {
      const message =
        `step ${n} of the rework of ${bad.id} is from ${shown(start)} to ${shown(end)} s; ` +
        `it should be step ${i + 1}, from ${shown(free)} to ${shown(free + (seconds[i] ?? 0))} s`;
      return [breach(rule, `${where}[${i}]`, message, { value: end, limit: wanted })];
    }
    free = end;
  }
  return [];
}

/** Via points and straight legs of a rework that the arm does not follow. */
function viaFindings(
  rule: string,
  context: RuleContext,
  { rework }: Known,
  p: number,
  where: string,
): Finding[] {
  const { plan } = context;
  const program = { ...plan.programs[p]!, steps: [...asProgram(rework)] };
  return wayFindings(rule, { ...context, plan: { ...plan, programs: [program] } }).map((finding) => ({
    ...finding,
    where: finding.where.replace(
      /^programs\[0\]\.steps\[(\d+)\]/,
      (_, i: string) => `${where}[${Number(i) - 1}]`,
    ),
  }));
}

/** What is wrong with the steps that the programs have for tacks reported bad. */
export function reworkStepFindings(rule: string, context: RuleContext): Finding[] {
  const { plan, cell } = context;
  return plan.programs.flatMap(({ robot, steps }, p) => {
    const who = robotsOf(cell).find(({ id }) => id === robot);
    if (who === undefined) return [];
    const reworks = reworksOf(context, who, steps);
    return steps.flatMap((step, at) => {
      if (step.do !== 'accept') return [];
      const stage = plan.stages.find(({ number }) => number === step.stage);
      const bad = stage?.tacks.find(({ id }) => id === step.tack);
      // Of a tack that the stage does not have the rule on programs speaks.
      if (stage === undefined || bad === undefined) return [];
      const where = `programs[${p}].steps[${at}].rework`;
      const other = stage.rework.find(({ instead }) => instead === bad.id)?.tack ?? undefined;
      const rework = reworks.find((one) => one.at === at);
      if ((other === undefined) !== (rework === undefined)) {
        const message = other
          ? `nothing is done when tack ${bad.id} is bad, though ${other.id} shall be laid instead`
          : `something is done when tack ${bad.id} is bad, though the stage has no tack instead of it`;
        return [breach(rule, where, message)];
      }
      if (other === undefined || rework === undefined) return [];
      const known = { rework, bad, other, stage, robot };
      return [
        ...stepFinding(rule, context, known, where),
        ...timeFinding(rule, context, known, p, where),
        ...viaFindings(rule, context, known, p, where),
      ];
    });
  });
}

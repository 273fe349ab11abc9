import { robotsOf, welderNamed } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { GeometricPlan, Step } from '../model/plan.js';
import { handlerSteps, welderSteps, type ExpectedStep } from './expected-steps.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { handlerNamed } from './stage-views.js';

const ID = 'programs-true';

/** Joints of a step are those of the stage, written with the same rounding; degrees. */
const JOINT_ROUNDING = 1e-3;

type Program = GeometricPlan['programs'][number];

const sameJoints = (a: readonly number[], b: readonly number[]): boolean =>
  a.every((value, i) => Math.abs(value - b[i]!) <= JOINT_ROUNDING);

const isVia = (step: Step): boolean => step.do === 'move' && step.via === true;

/**
 * What is wrong with a step, in words; undefined when it is the one expected. Where a joint move is expected, a way
 * through via points is one too: any moves that are `via`, then one to the joints expected, which may be straight.
 */
function difference(step: Step, expected: ExpectedStep, afterVia: boolean): string | undefined {
  if (step.do !== expected.do) return `${step.do} instead of ${expected.do}`;
  if (step.stage !== expected.stage) return `${step.do} at stage ${step.stage} instead of ${expected.stage}`;
  if (step.do === 'move') {
    const joint = expected.path === 'joint';
    // A via point may be taught in any frame.
    if (step.via)
      return joint ? strange(step, expected, ['tool']) : 'a via point where a straight stroke is asked for';
    if (step.path !== expected.path && !(joint && afterVia))
      return `a ${step.path} move instead of a ${expected.path} one`;
    if (expected.to !== undefined && !sameJoints(step.to, expected.to))
      return `a move to joints other than the stage has for it (${step.place})`;
  }
  return strange(step, expected, Object.keys(expected.fields ?? {}));
}

/** The first of some fields that is not as expected. */
function strange(step: Step, { fields = {} }: ExpectedStep, names: readonly string[]): string | undefined {
  const stated = step as unknown as Readonly<Record<string, unknown>>;
  const wrong = names.find((name) => stated[name] !== fields[name]);
  return wrong && `${step.do} with ${wrong} ${String(stated[wrong])} instead of ${fields[wrong] ?? 'none'}`;
}

/** Signals and waits are free, and so is keeping still for a moment with a later part that then stands by itself. */
const ordersOnly = ({ stages }: GeometricPlan, step: Step): boolean =>
  step.do === 'signal' ||
  step.do === 'await' ||
  (step.do === 'hold' &&
    stages
      .slice(1)
      .some(({ number, part, held }) => number === step.stage && part === step.part && held === null));

/** The first step that is not the one expected, with what is wrong, or else how many of those expected there are. */
export function firstDifference<T extends { readonly step: Step }>(
  real: readonly T[],
  expected: readonly ExpectedStep[],
): { readonly at: T; readonly wrong: string } | { readonly done: number } {
  let done = 0;
  let afterVia = false;
  for (const at of real) {
    const wanted = expected[done];
    const { step } = at;
    const wrong = wanted === undefined ? `${step.do} after all is done` : difference(step, wanted, afterVia);
    if (wrong !== undefined) return { at, wrong };
    afterVia = isVia(step);
    if (!afterVia) done += 1;
  }
  return { done };
}

/** The first step that is not what the stages ask for; what follows it could only repeat the complaint. */
function stepFindings(
  plan: GeometricPlan,
  program: Program,
  p: number,
  expected: readonly ExpectedStep[],
): Finding[] {
  const real = program.steps.flatMap((step, i) => (ordersOnly(plan, step) ? [] : [{ step, i }]));
  const where = `programs[${p}].steps`;
  const found = firstDifference(real, expected);
  if ('wrong' in found) {
    const { step, i } = found.at;
    return [breach(ID, `${where}[${i}]`, `step ${step.n} of ${program.robot}: ${found.wrong}`)];
  }
  const { done } = found;
  if (done === expected.length) return [];
  const next = expected[done]!;
  const message = `${program.robot} stops after ${done} of ${expected.length} steps, before ${next.do} of stage ${next.stage}`;
  return [breach(ID, where, message, { value: done, limit: expected.length })];
}

function numberFindings(program: Program, p: number): Finding[] {
  const i = program.steps.findIndex(({ n }, k) => n !== k + 1);
  if (i < 0) return [];
  const { n } = program.steps[i]!;
  const where = `programs[${p}].steps[${i}].n`;
  return [breach(ID, where, `step number ${n} should be ${i + 1}`, { value: n, limit: i + 1 })];
}

function robotFindings({ plan, cell }: RuleContext): Finding[] {
  const robots = robotsOf(cell);
  const missing = robots.flatMap(({ id }) => {
    const count = plan.programs.filter(({ robot }) => robot === id).length;
    const message = `${id} has ${count} programs; it must have one`;
    return count === 1 ? [] : [breach(ID, 'programs', message, { value: count, limit: 1 })];
  });
  const strange = plan.programs.flatMap(({ robot, duty }, p) => {
    const known = robots.find(({ id }) => id === robot);
    if (known === undefined) return [breach(ID, `programs[${p}].robot`, `robot ${robot} is not in the cell`)];
    if (known.duty !== duty)
      return [breach(ID, `programs[${p}].duty`, `${robot} has the duty ${known.duty}, not ${duty}`)];
    return [];
  });
  return [...missing, ...strange];
}

/** Every part that no person sets is brought by a handling robot. */
const bringerFindings = ({ plan, cell }: RuleContext): Finding[] =>
  plan.stages.flatMap(({ robot, part, manual }, i) =>
    manual !== undefined || handlerNamed(cell, robot)
      ? []
      : [breach(ID, `stages[${i}].robot`, `${part} is brought by ${robot}, which is no handling robot`)],
  );

/** Every tack is laid by a welding robot. */
const tackerFindings = ({ plan, cell }: RuleContext): Finding[] =>
  plan.stages.flatMap(({ tacks }, i) =>
    tacks.flatMap(({ id, robot }, k) => {
      if (welderNamed(cell, robot)) return [];
      const message = `tack ${id} is laid by ${robot}, which is no welding robot`;
      return [breach(ID, `stages[${i}].tacks[${k}].robot`, message)];
    }),
  );

/** A gripper that one robot has used is not on the arm of another. */
function gripperFindings({ plan }: RuleContext): Finding[] {
  const owners = new Map<string, string>();
  return plan.programs.flatMap(({ robot, steps }, p) =>
    steps.flatMap((step, i) => {
      const gripper = step.do === 'grip' ? step.gripper : step.do === 'change-gripper' ? step.to : undefined;
      if (gripper === undefined) return [];
      const owner = owners.get(gripper) ?? robot;
      owners.set(gripper, owner);
      if (owner === robot) return [];
      return [
        breach(ID, `programs[${p}].steps[${i}]`, `gripper ${gripper} of ${robot} is used by ${owner} too`),
      ];
    }),
  );
}

function judge(context: RuleContext): Finding[] {
  const { plan, cell } = context;
  const steps = plan.programs.flatMap((program, p) => {
    const numbers = numberFindings(program, p);
    const handler = handlerNamed(cell, program.robot);
    if (handler) return [...numbers, ...stepFindings(plan, program, p, handlerSteps(plan, cell, handler))];
    const welder = welderNamed(cell, program.robot);
    if (welder) return [...numbers, ...stepFindings(plan, program, p, welderSteps(plan, cell, welder))];
    return numbers;
  });
  return [
    ...robotFindings(context),
    ...bringerFindings(context),
    ...tackerFindings(context),
    ...gripperFindings(context),
    ...steps,
  ];
}

/**
 * The programs do what the stages say, in their order, with their joints, and nothing else but signals and waits, and
 * via points on the way from one place to another.
 */
export const programsTrue: Rule = {
  id: ID,
  forbids: 'programs whose moves, grips, tacks or changes of gripper are not those of the stages',
  why: 'the stages are what was judged; the programs are what runs',
  judge,
};

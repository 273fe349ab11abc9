import { rounded } from '../base/order.js';
import { PROGRAMS_FORMAT, PROGRAMS_VERSION, type DryRun, type DryStep } from '../model/dry-run.js';
import type { GeometricPlan, Step } from '../model/plan.js';

/** Share of the planned speeds at which a first try runs where nothing else is said; our choice. */
export const DRY_RUN_SPEED = 0.25;

export interface DryRunOptions {
  /** More than 0, at most 1. */
  readonly speed?: number;
}

type Move = Extract<Step, { do: 'move' }>;
type Program = GeometricPlan['programs'][number];
type Stop = DryRun['stops'][number];

const CAUTION =
  'No tack is laid: a part that the plan lets go because it is tacked falls unless a person secures it first. Stop at every step that `stops` lists.';

type Untimed = { [K in Step['do']]: Omit<Extract<Step, { do: K }>, 'start' | 'end'> }[Step['do']];

function untimed(step: Step): Untimed {
  const rest: Partial<Step> & Untimed = { ...step };
  delete rest.start;
  delete rest.end;
  return rest;
}

/** What is done in a first try for a step of the plan; undefined where nothing is. `last` is the move before it. */
function dryStep(step: Step, speed: number, last: Move | undefined): DryStep | undefined {
  const slower = (value: number): number => rounded(value * speed, 6);
  const rest = untimed(step);
  switch (rest.do) {
    case 'move':
      return { ...rest, speed: slower(rest.speed) };
    case 'tack': {
      const { n, stage, to, tool, frame, pose, tack, arc } = rest;
      const { branch, acceleration } = last!;
      const place = `end of ${tack}, without arc`;
      return {
        ...{ n, stage, do: 'move', path: 'straight', to, tool, frame, pose, branch, place },
        ...{ speed: slower(arc.speed), ...(acceleration !== undefined && { acceleration }) },
      };
    }
    case 'wire-check':
    case 'accept':
    case 'cool':
      return undefined;
    default:
      return rest;
  }
}

function drySteps({ steps }: Program, speed: number): readonly DryStep[] {
  let last: Move | undefined;
  return steps.flatMap((step) => {
    if (step.do === 'move') last = step;
    const dry = dryStep(step, speed, last);
    return dry === undefined ? [] : [dry];
  });
}

/** Where a person has to see to it that nothing falls: before what was held is pulled at or let go, and before a turn. */
function stopsOf({ robot, steps }: Program): readonly Stop[] {
  const held = new Set<string>();
  return steps.flatMap((step): Stop[] => {
    if (step.do === 'hold') held.add(step.part);
    if (step.do === 'turn')
      return [
        { robot, step: step.n, why: 'nothing on the table is tacked: secure all parts before it turns' },
      ];
    if (step.do === 'manual')
      return [
        { robot, step: step.n, why: `no tack holds ${step.part} or what it stands on: secure them all` },
      ];
    if ((step.do !== 'proof-pull' && step.do !== 'let-go') || !held.delete(step.part)) return [];
    const why = `${step.part} is not tacked: secure it before it is ${step.do === 'let-go' ? 'let go' : 'pulled at'}`;
    return [{ robot, step: step.n, why }];
  });
}

/**
 * The programs of a plan for a first try without arc: the same moves, grips and signals at a share of their speed, a
 * tack as a move of the torch along its seam, and nothing that needs an arc. Pure. A RangeError for a speed that is not
 * more than 0 and at most 1.
 */
export function dryRun(plan: GeometricPlan, { speed = DRY_RUN_SPEED }: DryRunOptions = {}): DryRun {
  if (!(speed > 0 && speed <= 1))
    throw new RangeError(`the speed must be more than 0 and at most 1, not ${speed}`);
  const { weldment, cell, frames, handshakes, programs, cautions } = plan;
  return {
    ...{ format: PROGRAMS_FORMAT, version: PROGRAMS_VERSION, variant: 'dry-run' },
    ...{ weldment, cell, speed, frames },
    handshakes: handshakes.map((one) => ({ ...one, timeLimit: rounded(one.timeLimit / speed, 3) })),
    programs: programs.map((program) => ({
      robot: program.robot,
      duty: program.duty,
      steps: drySteps(program, speed),
    })),
    stops: programs.flatMap(stopsOf),
    cautions: [CAUTION, ...cautions],
  };
}

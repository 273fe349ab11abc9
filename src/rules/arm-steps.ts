import { sixOf, type Joints } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { followStraight } from '../kinematics/straight-move.js';
import type { Handler, Welder } from '../model/cell.js';
import type { GeometricPlan, PlanTack, Step } from '../model/plan.js';
import { endOfStep } from './step-times.js';

/** How an arm gets through a step. */
export interface Motion {
  /** Postures from the start to the end, each joint turning evenly from one to the next; one for an arm that stands. */
  readonly way: readonly Joints[];
  /**
   * `leg`: a straight move that is part of a way between two places; `stroke`: any other straight move, onto a part or
   * a seam or away from it, or along a tack.
   */
  readonly kind: 'stand' | 'joint' | 'leg' | 'stroke';
}

/** Samples of a straight move, mm: between them the joints turn so little that turning evenly is straight. */
const STRAIGHT_STEP = 10;
/** Between two samples no joint turns by more, radians, else they are set closer. */
const MOST_TURN = 0.05;
/** How often the samples are set closer, by halves. */
const HALVINGS = 5;
/** Joints past a limit by more than this, radians, are left to the rule on reach. */
const LIMIT_ROUNDING = 1e-4;

const isInside = ({ arm }: Handler | Welder, joints: Joints): boolean =>
  joints.every(
    (value, i) => value >= arm.limits[i]![0] - LIMIT_ROUNDING && value <= arm.limits[i]![1] + LIMIT_ROUNDING,
  );

const largestTurn = (way: readonly Joints[]): number =>
  Math.max(
    0,
    ...way.slice(1).map((to, k) => Math.max(...to.map((value, i) => Math.abs(value - way[k]![i]!)))),
  );

/** The postures of a straight move, in the branch of its start; undefined where it cannot be followed. */
function straightWay({ arm }: Handler | Welder, from: Joints, to: Joints): readonly Joints[] | undefined {
  const roomy = {
    ...arm,
    limits: sixOf((i) => [arm.limits[i]![0] - LIMIT_ROUNDING, arm.limits[i]![1] + LIMIT_ROUNDING] as const),
  };
  const [start, end] = [forward(arm, from), forward(arm, to)];
  let found: readonly Joints[] | undefined;
  for (let k = 0; k <= HALVINGS; k += 1) {
    const way = followStraight(roomy, start, end, from, STRAIGHT_STEP / 2 ** k, 0);
    if (!way.ok) return undefined;
    found = way.value;
    if (largestTurn(found) <= MOST_TURN) break;
  }
  return found;
}

/** Whether a step is a straight move to a via point or, `before` being the last move, from one. */
export const isStraightLeg = (step: Step, before: Step | undefined): boolean =>
  step.do === 'move' &&
  step.path === 'straight' &&
  (step.via === true || (before?.do === 'move' && before.via === true));

/**
 * The motion of every step of a program from the robot's home on; undefined where joints are out of the limits or a
 * straight move cannot be followed, which the rule on reach tells.
 */
export function motionsOf(
  robot: Handler | Welder,
  steps: readonly Step[],
  tacks: ReadonlyMap<string, PlanTack>,
): readonly (Motion | undefined)[] {
  let at = robot.home;
  let before: Step | undefined;
  return steps.map((step) => {
    const from = at;
    const end = endOfStep(step, tacks);
    if (end === undefined) return isInside(robot, at) ? { kind: 'stand', way: [at] } : undefined;
    at = end;
    const isLeg = isStraightLeg(step, before);
    if (step.do === 'move') before = step;
    if (!isInside(robot, from) || !isInside(robot, at)) return undefined;
    if (step.do === 'move' && step.path === 'joint') return { kind: 'joint', way: [from, at] };
    const way = straightWay(robot, from, at);
    return way && { kind: isLeg ? 'leg' : 'stroke', way };
  });
}

/** The one program of each robot of a cell, in the order of the robots; undefined when a robot has none or several. */
export function programsOf(
  plan: GeometricPlan,
  robots: readonly { readonly id: string }[],
): readonly GeometricPlan['programs'][number][] | undefined {
  const own = robots.map(({ id }) => plan.programs.filter(({ robot }) => robot === id));
  return own.every(({ length }) => length === 1) ? own.map(([program]) => program!) : undefined;
}

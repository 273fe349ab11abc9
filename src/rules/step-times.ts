import type { Arm, Joints } from '../kinematics/arm.js';
import { travelTime } from '../kinematics/travel.js';
import { processIn, type Cell, type Handler, type Welder } from '../model/cell.js';
import type { GeometricPlan, PlanTack, Step } from '../model/plan.js';
import { turnSeconds } from '../model/table-turn.js';
import { straightSeconds } from './straight-seconds.js';
import { jointsOf } from './plan-frames.js';

interface Mover {
  readonly seating?: Handler['seating'];
  readonly seamSearch?: Welder['seamSearch'];
  readonly cleaning?: Welder['cleaning'];
  readonly arm: Arm;
  readonly home: Joints;
  readonly straightSpeed: number;
  readonly straightAcceleration: number;
}

function moveTime(robot: Mover, path: 'joint' | 'straight', from: Joints, to: Joints): number {
  if (path === 'joint') return travelTime(robot.arm, from, to);
  return straightSeconds(robot, from, to);
}

/** With the speed of its welding position. */
const tackTime = (cell: Cell, { length, position }: PlanTack): number =>
  length / processIn(cell, position).speed + cell.process.startSeconds + cell.process.endSeconds;

/**
 * Seconds of a step of a robot that is no move and no wait, `extra` those of the gripper to let go; undefined for a tack
 * that is not in the plan.
 */
function actionTime(
  cell: Cell,
  step: Step,
  tacks: ReadonlyMap<string, PlanTack>,
  extra: number,
  { seating, seamSearch, cleaning }: Mover,
): number | undefined {
  const { grip, release, clamp, settle, locate, toolChange, proofPull, accept } = cell.times;
  const { partPresent, wireCheck, earthCheck, handOver } = cell.times;
  switch (step.do) {
    case 'grip':
      return grip;
    case 'set-down':
    case 'let-go':
      return release + extra;
    case 'locate':
      return locate;
    case 'seat':
      return seating?.seconds ?? 0;
    case 'seam-search':
      return seamSearch?.seconds ?? 0;
    case 'clamp':
      return clamp;
    case 'hold':
      return settle;
    case 'cool':
      return cell.process.coolingSeconds;
    case 'change-gripper':
      return toolChange;
    case 'proof-pull':
      return proofPull;
    case 'accept':
      return accept;
    case 'part-present':
      return partPresent;
    case 'wire-check':
      return wireCheck;
    case 'earth-check':
      return earthCheck;
    case 'hand-over':
      return handOver;
    case 'manual':
      return step.planned;
    case 'clean-nozzle':
      return cleaning?.seconds ?? 0;
    case 'tack': {
      const tack = tacks.get(step.tack);
      return tack && tackTime(cell, tack);
    }
    default:
      return 0;
  }
}

/** Every tack of the plan by its name, also those that are laid instead of a bad one. */
export const tacksByName = (plan: GeometricPlan): ReadonlyMap<string, PlanTack> =>
  new Map(
    plan.stages.flatMap(({ tacks, rework }) =>
      [...rework.flatMap(({ tack }) => tack ?? []), ...tacks].map((tack) => [tack.id, tack] as const),
    ),
  );

/** Where a step leaves the arm; undefined when it stays where it was. The torch ends where its tack does. */
export function endOfStep(step: Step, tacks: ReadonlyMap<string, PlanTack>): Joints | undefined {
  const stated =
    step.do === 'move' ? step.to : step.do === 'tack' ? tacks.get(step.tack)?.torch.jointsEnd : undefined;
  return stated && jointsOf(stated);
}

/**
 * Seconds that each step of a program takes by the speeds and times of the cell; undefined for waits, which last as
 * long as they must, for tacks that are not in the plan, and for turns of a table that stands still. A robot starts at
 * its home, the table at the angle of the first stage.
 */
export function stepTimes(
  cell: Cell,
  robot: Mover,
  plan: GeometricPlan,
  steps: readonly Step[],
): (number | undefined)[] {
  const tacks = tacksByName(plan);
  let at = robot.home;
  let gripper: string | undefined;
  let angle = plan.stages[0]?.turn ?? 0;
  return steps.map((step) => {
    if (step.do === 'await') return undefined;
    const from = at;
    at = endOfStep(step, tacks) ?? at;
    if (step.do === 'turn') {
      const { turntable } = cell.table;
      const last = angle;
      angle = step.to;
      return turntable && turnSeconds(turntable, last, angle);
    }
    if (step.do === 'grip') gripper = step.gripper;
    const extra = cell.grippers.find(({ id }) => id === gripper)?.releaseSeconds ?? 0;
    if (step.do !== 'move') return actionTime(cell, step, tacks, extra, robot);
    return moveTime(robot, step.path, from, at);
  });
}

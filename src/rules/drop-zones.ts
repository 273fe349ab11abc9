import { rounded } from '../base/order.js';
import { compose, inverse, place } from '../geometry/pose.js';
import { add, scale, distance, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { between } from '../kinematics/clear-path.js';
import { robotsOf, type Handler, type Welder } from '../model/cell.js';
import { shapeSolid } from '../model/part-geometry.js';
import type { DropZone } from '../model/plan-safety.js';
import type { Handling, Stage, Step } from '../model/plan.js';
import { carryings, type Carrying } from './arm-stays.js';
import { jointsOf, poseOf } from './plan-frames.js';
import type { RuleContext } from './rule.js';
import { flangeOf } from './stated-reach.js';
import { endOfStep, tacksByName } from './step-times.js';

/** Postures looked at in each move. */
const SAMPLES = 12;

/** The postures of an arm from taking a part to where it lets go of it or has it in its place. */
function postures(
  context: RuleContext,
  { home }: Handler | Welder,
  steps: readonly Step[],
  one: Carrying,
): Joints[] {
  const tacks = tacksByName(context.plan);
  const last = Math.min(one.inPlace, one.release, steps.length - 1);
  const found: Joints[] = [];
  let at = home;
  steps.slice(0, last + 1).forEach((step, i) => {
    const from = at;
    at = endOfStep(step, tacks) ?? at;
    if (i < one.grip) return;
    for (let k = 1; k <= SAMPLES; k += 1) found.push(between(from, at, k / SAMPLES));
  });
  return found;
}

/** The stage and the grip of it by which a part is carried; undefined for one taken hold of in its place. */
function carriedBy(
  { plan }: RuleContext,
  steps: readonly Step[],
  { grip, part }: Carrying,
): { readonly stage: Stage; readonly handling: Handling } | undefined {
  const { stage: number } = steps[grip]!;
  const stage = plan.stages.find((one) => one.number === number && one.part === part);
  const earlier = steps
    .slice(0, grip)
    .filter((step) => step.do === 'grip' && step.part === part && step.stage === number).length;
  const handling = stage?.handling[earlier];
  return stage && handling && { stage, handling };
}

function zoneOf(
  context: RuleContext,
  robot: Handler | Welder,
  steps: readonly Step[],
  one: Carrying,
): DropZone | undefined {
  const { cell, scene } = context;
  const carried = carriedBy(context, steps, one);
  const index = scene.index.get(one.part);
  const gripper = cell.grippers.find(({ id }) => id === carried?.handling.grip.gripper);
  if (carried === undefined || index === undefined || gripper === undefined) return undefined;
  if (gripper.powerLoss.kind === 'stored-seconds') return undefined;
  const { take } = carried.handling;
  const { low, high } = shapeSolid(scene.parts[index]!.part.shape).bounds;
  const middle: Vec3 = scale(add(low, high), 0.5);
  const long = distance(low, high);
  const onFlange = compose(inverse(flangeOf(robot, jointsOf(take.joints))), poseOf(take.part));
  const under = postures(context, robot, steps, one).map((joints) =>
    place(compose(flangeOf(robot, joints), onFlange), middle),
  );
  if (under.length === 0) return undefined;
  const corner = (of: (...values: number[]) => number, by: number): [number, number] => [
    rounded(of(...under.map(([x]) => x)) + by, 0),
    rounded(of(...under.map(([, y]) => y)) + by, 0),
  ];
  return {
    ...{ part: one.part, gripper: gripper.id, stage: carried.stage.number },
    ...{ from: corner(Math.min, -long), to: corner(Math.max, long) },
  };
}

/** Where nobody may be while parts are carried by grippers that keep nothing without power; one zone a carry. */
export function dropZonesOf(
  context: RuleContext,
  programs: readonly (readonly Step[])[],
): readonly DropZone[] {
  const robots = robotsOf(context.cell);
  return programs.flatMap((steps, i) =>
    carryings(steps).flatMap((one) => zoneOf(context, robots[i]!, steps, one) ?? []),
  );
}

import {
  axisX,
  axisZ,
  fromRollPitchYaw,
  multiply,
  translate,
  turnAbout,
  type Pose,
} from '../geometry/pose.js';
import { scale, type Vec3 } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { welderNamed, type Handler } from '../model/cell.js';
import { gripFlange, torchFlange } from '../model/placement.js';
import type { PlanTack } from '../model/plan.js';
import { direction, jointsOf, poseOf } from './plan-frames.js';
import type { Rule, RuleContext } from './rule.js';
import {
  handlerNamed,
  handlingViews,
  otherHolder,
  stageViews,
  type HandlingView,
  type StageView,
} from './stage-views.js';
import {
  backAlong,
  chainFindings,
  flangeOf,
  ownAxis,
  stationFindings,
  type StandingArm,
  type Station,
} from './stated-reach.js';
import { wayFindings } from './ways-reached.js';

const ID = 'reach';

const UP: Vec3 = [0, 0, 1];
const DOWN = fromRollPitchYaw(180, 0, 0);

const lifted = (pose: Pose, way: number): Pose => translate(pose, scale(UP, way));

/** A handling robot as it stands to the table in a stage. */
const atTable = ({ scene }: StageView, robot: Handler): Handler => handlerNamed(scene.cell, robot.id)!;

/** The stations of one grip, in the order the handling robot takes them. */
function handlingFindings(context: RuleContext, view: StageView, one: HandlingView): Finding[] {
  const way = context.settings.motion['approach-distance'];
  const { take, put } = one.handling;
  const flangeAt = (part: typeof take.part): Pose =>
    gripFlange(view.placed.part.shape, poseOf(part), one.grip, one.gripper);
  const [taking, putting] = [flangeAt(take.part), flangeAt(put.part)];
  const station = (field: string, joints: readonly number[], flange: Pose): Station => ({
    where: `${one.where}.${field}`,
    joints,
    flange,
  });
  const takes = [
    station('take.approach', take.approach, backAlong(taking, ownAxis(taking), way)),
    station('take.joints', take.joints, taking),
    station('take.lifted', take.lifted, lifted(taking, way)),
  ];
  const { approach } = view.stage;
  const travel = approach ? direction(approach.direction) : undefined;
  const coming =
    put.to === 'place' ? travel && backAlong(putting, travel, approach!.distance) : lifted(putting, way);
  const puts = [
    ...(coming === undefined ? [] : [station('put.approach', put.approach, coming)]),
    station('put.joints', put.joints, putting),
    station('put.retreat', put.retreat, backAlong(putting, ownAxis(putting), way)),
  ];
  const arm = put.to === 'place' ? atTable(view, one.robot) : one.robot;
  return [...chainFindings(ID, one.robot, takes), ...chainFindings(ID, arm, puts)];
}

/** Taking hold of an earlier part in its place, unless it is still held, and leaving it, along the grip both ways. */
function otherFindings(context: RuleContext, view: StageView): Finding[] {
  const other = otherHolder(context, view);
  const stated = view.stage.alsoHeld;
  if (other === undefined || stated === undefined) return [];
  const { where, placed, grip, gripper } = other;
  const robot = atTable(view, other.robot);
  const flange = gripFlange(placed.part.shape, placed.pose, grip, gripper);
  const back = backAlong(flange, ownAxis(flange), context.settings.motion['approach-distance']);
  const coming =
    stated.approach === null ? [] : [{ where: `${where}.approach`, joints: stated.approach, flange: back }];
  return chainFindings(ID, robot, [
    ...coming,
    { where: `${where}.joints`, joints: stated.joints, flange },
    { where: `${where}.retreat`, joints: stated.retreat, flange: back },
  ]);
}

function tackFindings({ settings }: RuleContext, view: StageView, tack: PlanTack, where: string): Finding[] {
  const welder = welderNamed(view.scene.cell, tack.robot);
  if (welder === undefined) return [];
  const way = settings.motion['torch-stroke'];
  const [start, end] = [poseOf(tack.torch.start), poseOf(tack.torch.end)];
  const [flange, flangeEnd] = [torchFlange(start, welder.torch), torchFlange(end, welder.torch)];
  const { clear, joints, jointsEnd, leave } = tack.torch;
  return chainFindings(ID, welder, [
    { where: `${where}.clear`, joints: clear, flange: backAlong(flange, axisZ(start.turn), way) },
    { where: `${where}.joints`, joints, flange },
    { where: `${where}.jointsEnd`, joints: jointsEnd, flange: flangeEnd },
    { where: `${where}.leave`, joints: leave, flange: backAlong(flangeEnd, axisZ(end.turn), way) },
  ]);
}

/** A move before a change of gripper ends at the stand of the gripper that comes, pointing down. */
function standFindings({ cell, plan }: RuleContext): Finding[] {
  return plan.programs.flatMap(({ robot: name, steps }, p) =>
    steps.flatMap((step, i) => {
      const next = steps[i + 1];
      const robot = handlerNamed(cell, name);
      if (robot === undefined || step.do !== 'move' || next?.do !== 'change-gripper') return [];
      const gripper = cell.grippers.find(({ id }) => id === next.to);
      if (gripper === undefined) return [];
      const where = `programs[${p}].steps[${i}].to`;
      const flange = { at: gripper.stand, turn: pointingDown(robot, step.to) };
      return stationFindings(ID, robot, { where, joints: step.to, flange });
    }),
  );
}

/** How the flange points at a stand: straight down, turned about the vertical as the joints turn it. */
function pointingDown(handler: StandingArm, joints: readonly number[]): Pose['turn'] {
  const { turn } = flangeOf(handler, jointsOf(joints));
  const [x, y] = axisX(turn);
  return multiply(turnAbout(UP, Math.atan2(y, x)), DOWN);
}

function judge(context: RuleContext): Finding[] {
  const stages = stageViews(context).flatMap((view) => [
    ...handlingViews(context, view).flatMap((one) => handlingFindings(context, view, one)),
    ...otherFindings(context, view),
    ...view.stage.tacks.flatMap((tack, i) =>
      tackFindings(context, view, tack, `${view.where}.tacks[${i}].torch`),
    ),
  ]);
  return [...stages, ...standFindings(context), ...wayFindings(ID, context)];
}

/**
 * The stated joints bring the flange where it shall be, inside the limits, along straight strokes in one branch; via
 * points are inside the limits, and straight moves to and from them stay in one branch too.
 */
export const reach: Rule = {
  id: ID,
  forbids: 'joints past a limit, off the pose they stand for, or strokes that leave the branch of the arm',
  why: 'a program with joints that lead elsewhere is worse than none',
  judge,
};

import { compose, type Pose } from '../geometry/pose.js';
import { processIn, robotsOf, type Cell, type Handler, type Welder } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import { toolFrame, workFramePose } from '../model/frame-poses.js';
import { releaseAction, takeAction } from '../model/gripper.js';
import type { GeometricPlan, PlanPose, PlanTack, Step } from '../model/plan.js';
import { branchFinding } from './branch-true.js';
import { frameFindings } from './frames-true.js';
import { jointsOf, poseMiss, poseOf, within, type PoseMiss } from './plan-frames.js';
import { resumeFindings } from './resume-points.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { angleOf } from './seen-stage.js';
import { flangeOf } from './stated-reach.js';
import { tacksByName } from './step-times.js';

const ID = 'steps-complete';

/** A pose of a step is worked out from its stated joints, and both are rounded: mm and degrees. */
const ROUNDING: PoseMiss = { mm: 0.01, degrees: 0.002 };

type Move = Extract<Step, { do: 'move' }>;
type Tack = Extract<Step, { do: 'tack' }>;

/** What one step of one robot is judged with. */
interface Judged {
  readonly context: RuleContext;
  readonly robot: Handler | Welder;
  readonly where: string;
  readonly step: Step;
  /** The gripper that took a part last. */
  readonly gripper: string | undefined;
}

/** Numbers in words and a finding where they differ: field, stated, true. */
type Fact = readonly [field: string, stated: number | string | undefined, is: number | string | undefined];

const factFindings = ({ where, step, robot }: Judged, facts: readonly Fact[]): Finding[] =>
  facts.flatMap(([field, stated, is]) => {
    if (stated === is) return [];
    const message = `step ${step.n} of ${robot.id} (${step.do}): ${field} ${stated ?? 'is absent'} instead of ${is ?? 'none'}`;
    return [breach(ID, `${where}.${field}`, message)];
  });

/** A work frame in the cell as it stands in a stage. */
function frameAt(cell: Cell, { stages }: GeometricPlan, { frame, stage }: Move | Tack): Pose | undefined {
  const own = stages.find(({ number }) => number === stage);
  return workFramePose(cell, frame, own ? angleOf(cell, own) : 0);
}

function poseFindings(
  { where, step, robot }: Judged,
  field: string,
  stated: PlanPose,
  frame: Pose,
  tip: Pose,
): Finding[] {
  const miss = poseMiss(compose(frame, poseOf(stated)), tip);
  if (within(miss, ROUNDING)) return [];
  const message = `step ${step.n} of ${robot.id} (${step.do}): its ${field} is ${shown(miss.mm)} mm and ${shown(miss.degrees)} degrees off`;
  return [breach(ID, `${where}.${field}`, message, { value: miss.mm, limit: ROUNDING.mm })];
}

function moveFindings(judged: Judged, step: Move): Finding[] {
  const { robot, where, context } = judged;
  const { cell, plan } = context;
  const tool = toolFrame(cell, robot, step.tool);
  const frame = frameAt(cell, plan, step);
  const joints = jointsOf(step.to);
  const tip = tool && compose(flangeOf(robot, joints), tool.pose);
  const straight = step.path === 'straight';
  const branch = branchFinding(robot.arm, joints, step.branch);
  const wrong = `step ${step.n} of ${robot.id}: ${branch}`;
  return [
    ...(tip && frame ? poseFindings(judged, 'pose', step.pose, frame, tip) : []),
    ...(branch === undefined ? [] : [breach(ID, `${where}.branch`, wrong)]),
    ...factFindings(judged, [
      ['speed', step.speed, straight ? robot.straightSpeed : 1],
      ['acceleration', step.acceleration, straight ? robot.straightAcceleration : undefined],
    ]),
  ];
}

function tackFindings(judged: Judged, step: Tack, tack: PlanTack): Finding[] {
  const { cell, plan } = judged.context;
  const frame = frameAt(cell, plan, step);
  if (frame === undefined || judged.robot.duty !== 'weld') return [];
  const { arc, startSeconds, endSeconds } = cell.process;
  const { current, voltage, speed } = processIn(cell, tack.position);
  const at = (pose: PlanPose): Pose => poseOf(pose);
  return [
    ...poseFindings(judged, 'from', step.from, frame, at(tack.torch.start)),
    ...poseFindings(judged, 'pose', step.pose, frame, at(tack.torch.end)),
    ...factFindings(judged, [
      ['tool', step.tool, judged.robot.torch.id],
      ['frame', step.frame, 'weldment'],
      ['to', step.to.join(), tack.torch.jointsEnd.join()],
      ['length', step.length, tack.length],
      ['leg', step.leg, tack.leg],
      ['position', step.position, tack.position],
      ['arc.process', step.arc.process, arc],
      ['arc.current', step.arc.current, current],
      ['arc.voltage', step.arc.voltage, voltage],
      ['arc.speed', step.arc.speed, speed],
      ['arc.before', step.arc.before, startSeconds],
      ['arc.after', step.arc.after, endSeconds],
    ]),
  ];
}

function stepFindings(judged: Judged, tacks: ReadonlyMap<string, PlanTack>): Finding[] {
  const { step, context, robot, gripper } = judged;
  const { grippers } = context.cell;
  switch (step.do) {
    case 'move':
      return moveFindings(judged, step);
    case 'tack': {
      const tack = tacks.get(step.tack);
      return tack ? tackFindings(judged, step, tack) : [];
    }
    case 'grip': {
      const taking = grippers.find(({ id }) => id === step.gripper);
      return taking ? factFindings(judged, [['action', step.action, takeAction(taking)]]) : [];
    }
    case 'set-down':
    case 'let-go': {
      const leaving = grippers.find(({ id }) => id === gripper);
      return leaving ? factFindings(judged, [['action', step.action, releaseAction(leaving)]]) : [];
    }
    case 'seat': {
      const travel = robot.duty === 'handle' ? robot.seating?.travel : undefined;
      return factFindings(judged, [['travel', step.travel, travel]]);
    }
    case 'manual': {
      const stage = context.plan.stages.find(({ number }) => number === step.stage);
      const asked = [...(stage?.manual?.tacks ?? [])].sort((a, b) => a.order - b.order).map(({ id }) => id);
      return factFindings(judged, [['tacks', step.tacks.join(), asked.join()]]);
    }
    case 'accept':
      return step.rework.flatMap((own, i) =>
        stepFindings({ ...judged, step: own, where: `${judged.where}.rework[${i}]` }, tacks),
      );
    default:
      return [];
  }
}

function judge(context: RuleContext): Finding[] {
  const { plan, cell } = context;
  const tacks = tacksByName(plan);
  const steps = plan.programs.flatMap((program, p) => {
    const robot = robotsOf(cell).find(({ id }) => id === program.robot);
    if (robot === undefined) return [];
    let gripper: string | undefined;
    const where = `programs[${p}].steps`;
    const own = program.steps.flatMap((step, i) => {
      if (step.do === 'grip') gripper = step.gripper;
      return stepFindings({ context, robot, where: `${where}[${i}]`, step, gripper }, tacks);
    });
    return [...own, ...resumeFindings(ID, robot, program.steps, where)];
  });
  return [...frameFindings(ID, context), ...steps];
}

/**
 * Every step has all that robot code needs, and it is true: poses by forward kinematics of the stated joints, branches
 * by the closed form of the inverse, tool and work frames by the cell, speeds and seam data by cell and stages, what
 * grippers are told by their kind, and where a stopped program may be taken up again.
 */
export const stepsComplete: Rule = {
  id: ID,
  forbids:
    'frames, poses, branches, speeds, seam data, gripper commands or resume points of a step that joints, stages and cell do not have',
  why: 'whoever makes robot code of a plan takes these numbers as they are, and has no other',
  judge,
};

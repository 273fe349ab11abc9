import { compose, fromRollPitchYaw, inverse, type Pose } from '../geometry/pose.js';
import type { Joints } from '../kinematics/arm.js';
import { sixOf } from '../kinematics/arm.js';
import { branchOf, wholeTurns } from '../kinematics/branch-of.js';
import { forward } from '../kinematics/forward.js';
import { processIn, robotsOf, type Cell, type Handler, type Welder } from '../model/cell.js';
import { FLANGE, toolFrame, workFramePose } from '../model/frame-poses.js';
import { workFrameSchema } from '../model/frames.js';
import { releaseAction, takeAction } from '../model/gripper.js';
import type {
  GeometricPlan,
  PlanFrames,
  PlanPose,
  PlanTack,
  ReworkStep,
  Stage,
  Step,
  WorkFrame,
} from '../model/plan.js';
import type { TimedStep } from './bare-step.js';
import { resumeMarks } from './resume-marks.js';
import { statedPose } from './stated-pose.js';

type Move = Extract<Step, { do: 'move' }>;
type Program = GeometricPlan['programs'][number];

const radians = (stated: readonly number[]): Joints => sixOf((i) => (stated[i]! * Math.PI) / 180);

/** A pose of the plan, which is in the cell, put into another frame. */
const poseIn = (frame: Pose, pose: Pose): PlanPose => statedPose(compose(inverse(frame), pose));

/**
 * Fills the steps of one robot with all that a program needs beyond the order of things: tool and work frames, poses,
 * branches, speeds, seam data, what grippers are told. Expects the steps in order, joints as stated.
 */
class Filler {
  private tool: string;

  constructor(
    private readonly cell: Cell,
    private readonly stages: readonly Stage[],
    private readonly robot: Handler | Welder,
    steps: readonly TimedStep[],
  ) {
    this.tool = firstTool(robot, steps);
  }

  fill(step: TimedStep): Step {
    const { seating } = this.robot.duty === 'handle' ? this.robot : { seating: undefined };
    switch (step.do) {
      case 'move':
        return { ...step, ...this.posed(step) };
      case 'change-gripper':
        this.tool = step.to;
        return step;
      case 'grip': {
        this.tool = step.gripper;
        return { ...step, action: takeAction(this.gripper()), confirm: 'part-held' };
      }
      case 'set-down':
      case 'let-go':
        return { ...step, action: releaseAction(this.gripper()) };
      case 'seat':
        return { ...step, travel: seating!.travel, confirm: 'contact' };
      case 'tack':
        return { ...step, ...this.seam(step.tack) };
      case 'accept':
        return { ...step, rework: step.rework.map((one) => this.fill(one) as ReworkStep) };
      default:
        return step;
    }
  }

  private gripper() {
    return this.cell.grippers.find(({ id }) => id === this.tool)!;
  }

  private frame(name: WorkFrame, stage: number): Pose {
    const angle = this.stages.find(({ number }) => number === stage)?.turn ?? 0;
    return workFramePose(this.cell, name, angle)!;
  }

  private posed({
    to,
    path,
    frame,
    stage,
  }: Extract<TimedStep, { do: 'move' }>): Pick<Move, 'tool' | 'pose' | 'branch' | 'speed' | 'acceleration'> {
    const { arm, base, straightSpeed, straightAcceleration } = this.robot;
    const joints = radians(to);
    const tip = compose(
      compose(base, forward(arm, joints)),
      toolFrame(this.cell, this.robot, this.tool)!.pose,
    );
    const turns = wholeTurns(joints);
    return {
      tool: this.tool,
      pose: poseIn(this.frame(frame, stage), tip),
      branch: { ...branchOf(arm, joints), ...(turns.some((n) => n !== 0) && { turns: [...turns] }) },
      ...(path === 'joint' ? { speed: 1 } : { speed: straightSpeed, acceleration: straightAcceleration }),
    };
  }

  private seam(id: string) {
    const [stage, tack] = this.stages
      .flatMap((one) => tacksAndReworks(one).map((own) => [one, own] as const))
      .find(([, own]) => own.id === id)!;
    const frame = this.frame('weldment', stage.number);
    const { torch, length, leg, position } = tack;
    return {
      ...{ tool: this.tool, frame: 'weldment' as const, to: torch.jointsEnd },
      from: movedInto(frame, torch.start),
      pose: movedInto(frame, torch.end),
      ...{ length, leg, position, arc: this.arc(tack) },
    };
  }

  private arc({ position }: PlanTack): Extract<Step, { do: 'tack' }>['arc'] {
    const { arc, startSeconds, endSeconds } = this.cell.process;
    const { current, voltage, speed } = processIn(this.cell, position);
    return { process: arc, current, voltage, speed, before: startSeconds, after: endSeconds };
  }
}

/** The tacks of a stage, and those that are laid instead of bad ones. */
const tacksAndReworks = ({ tacks, rework }: Stage): readonly PlanTack[] => [
  ...tacks,
  ...rework.flatMap(({ tack }) => tack ?? []),
];

/** A stated pose of the cell, seen from a frame. */
const movedInto = (frame: Pose, { at, turn }: PlanPose): PlanPose =>
  poseIn(frame, { at, turn: fromRollPitchYaw(...turn) });

/** What is on the flange before anything is taken: the gripper of the first grip, where none is fetched before it. */
function firstTool(robot: Handler | Welder, steps: readonly TimedStep[]): string {
  if (robot.duty === 'weld') return robot.torch.id;
  const first = steps.find((step) => step.do === 'grip' || step.do === 'change-gripper');
  return first?.do === 'grip' ? first.gripper : FLANGE;
}

/** The frames that programs use, and the bases of their robots. */
function framesOf(
  cell: Cell,
  robots: readonly (Handler | Welder)[],
  programs: readonly Program[],
): PlanFrames {
  return {
    bases: robots.map(({ id, base }) => ({ robot: id, pose: statedPose(base) })),
    tools: programs.flatMap(({ steps }, i) => {
      const robot = robots[i]!;
      const used = steps.flatMap((step) => (step.do === 'move' || step.do === 'tack' ? [step.tool] : []));
      return [...new Set(used)].map((name) => {
        const { kind, pose } = toolFrame(cell, robot, name)!;
        return { name, kind, robot: robot.id, pose: statedPose(pose) };
      });
    }),
    works: workFrameSchema.options.flatMap((name) => {
      const pose = workFramePose(cell, name, 0);
      const turns = name === 'weldment' ? cell.table.turntable : undefined;
      const about = turns && { about: [...turns.axis] as [number, number] };
      return pose ? [{ name, pose: statedPose(pose), ...about }] : [];
    }),
  };
}

/** Programs complete enough to make robot code of, and the frames that they name. Program `i` is that of robot `i`. */
export function filledPrograms(
  cell: Cell,
  stages: readonly Stage[],
  timed: readonly (readonly TimedStep[])[],
): Pick<GeometricPlan, 'programs' | 'frames'> {
  const robots = robotsOf(cell);
  const programs = robots.map((robot, i): Program => {
    const filler = new Filler(cell, stages, robot, timed[i]!);
    const marks = resumeMarks(robot, timed[i]!);
    const steps = timed[i]!.map((step, k): Step => ({
      ...filler.fill(step),
      ...(marks[k] && { resume: true }),
    }));
    return { robot: robot.id, duty: robot.duty, steps };
  });
  return { frames: framesOf(cell, robots, programs), programs };
}

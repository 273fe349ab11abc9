import { rotate, translate, transpose } from '../../src/geometry/pose.js';
import { distance } from '../../src/geometry/vector.js';
import { sixOf, type Joints } from '../../src/kinematics/arm.js';
import { forward } from '../../src/kinematics/forward.js';
import { followStraight } from '../../src/kinematics/straight-move.js';
import { straightTime, travelTime } from '../../src/kinematics/travel.js';
import type { Cell, Handler, Welder } from '../../src/model/cell.js';
import type { GeometricPlan, PlanTack, Stage, WorkFrame } from '../../src/model/plan.js';
import type { BareStep, TimedStep } from '../../src/planning/bare-step.js';
import { filledPrograms } from '../../src/planning/fill-programs.js';

export type Six = [number, number, number, number, number, number];
type Draft = BareStep & { readonly seconds: number };

const rounded = (value: number, digits: number): number => Math.round(value * 10 ** digits) / 10 ** digits;

/** Joint angles as a plan writes them, degrees. */
export const degrees = (joints: Joints): Six =>
  [...joints].map((value) => rounded((value * 180) / Math.PI, 4)) as Six;
const radians = (stated: readonly number[]): Joints => sixOf((i) => (stated[i]! * Math.PI) / 180);

/** How far the torch is raised beside a seam, mm. */
export const RAISED = 150;
/** Samples of that way, mm. */
const STEP = 25;

/** Writes one robot's steps one after the other, each with its length. */
export class StepWriter {
  readonly steps: Draft[] = [];
  stage = 0;
  private at: Six;
  private frame: WorkFrame = 'cell';

  constructor(
    readonly robot: Handler | Welder,
    private readonly cell: Cell,
  ) {
    this.at = degrees(robot.home);
  }

  joint(to: Six, place: string, via = false): this {
    const seconds = travelTime(this.robot.arm, radians(this.at), radians(to));
    this.at = to;
    return this.move('joint', to, place, via, seconds);
  }

  straight(to: Six, place: string, via = false): this {
    const [from, end] = [this.at, to].map((joints) => forward(this.robot.arm, radians(joints)).at);
    const { straightSpeed, straightAcceleration } = this.robot;
    const seconds = straightTime(distance(from!, end!), straightSpeed, straightAcceleration);
    this.at = to;
    return this.move('straight', to, place, via, seconds);
  }

  private move(path: 'joint' | 'straight', to: Six, place: string, via: boolean, seconds: number): this {
    const { stage, frame } = this;
    return this.add({ do: 'move', path, to, frame, place, stage, ...(via && { via }) }, seconds);
  }

  /** Joints when the flange is raised straight up from where it is at some joints. */
  private raised(from: Six): Six {
    const { arm, base } = this.robot;
    const flange = forward(arm, radians(from));
    const up = rotate(transpose(base.turn), [0, 0, RAISED]);
    const way = followStraight(arm, flange, translate(flange, up), radians(from), STEP);
    if (!way.ok) throw new Error('the hand-made plan cannot raise its torch');
    return degrees(way.value.at(-1)!);
  }

  /** Moves from now on are taught in this frame. */
  in(frame: WorkFrame): this {
    this.frame = frame;
    return this;
  }

  home(): this {
    this.in('cell');
    return this.joint(degrees(this.robot.home), 'home');
  }

  /** Tacks one after the other; from one to the next by way of home, and down and up beside what stands there. */
  tacks(tacks: readonly PlanTack[], rework: Stage['rework']): this {
    for (const tack of tacks) {
      this.from(tack.torch.clear).tack(tack);
      this.accept(tack, rework.find(({ instead }) => instead === tack.id)?.tack ?? undefined);
      this.straight(this.raised(this.at), 'above the seam', true);
      if (tack !== tacks.at(-1)) this.joint(degrees(this.robot.home), 'home', true);
    }
    return this.home();
  }

  /** Down from above. */
  private from(clear: Six): this {
    this.joint(this.raised(clear), 'above the seam', true);
    return this.straight(clear, 'clear of the seam');
  }

  /** Goes on where the tack is good; else lays another, by way of home, and comes back the same way. */
  private accept(tack: PlanTack, other: PlanTack | undefined): this {
    const branch = new StepWriter(this.robot, this.cell);
    branch.stage = this.stage;
    branch.at = this.at;
    branch.frame = this.frame;
    if (other) {
      branch.straight(branch.raised(branch.at), 'above the seam', true);
      branch.joint(degrees(this.robot.home), 'home', true).from(other.torch.clear).tack(other);
      branch.add({ do: 'accept', tack: other.id, rework: [], stage: this.stage }, 0);
      branch.straight(branch.raised(branch.at), 'above the seam', true);
      branch.joint(degrees(this.robot.home), 'home', true).from(tack.torch.leave);
    }
    let end = 0;
    const steps = branch.steps.map(({ seconds, ...step }, i) => {
      const start = end;
      end += seconds;
      return { ...step, n: i + 1, start: rounded(start, 3), end: rounded(end, 3) };
    });
    return this.add(
      { do: 'accept', tack: tack.id, rework: steps, stage: this.stage },
      this.cell.times.accept,
    );
  }

  private tack(tack: PlanTack): this {
    const { speed, startSeconds, endSeconds } = this.cell.process;
    this.straight(tack.torch.joints, 'seam');
    this.add(
      { do: 'tack', tack: tack.id, stage: this.stage },
      tack.length / speed + startSeconds + endSeconds,
    );
    this.at = tack.torch.jointsEnd;
    this.add({ do: 'wire-check', tack: tack.id, stage: this.stage }, this.cell.times.wireCheck);
    return this.straight(tack.torch.leave, 'clear of the seam');
  }

  zone(what: 'enter' | 'leave'): this {
    this.in(what === 'enter' ? 'weldment' : 'cell');
    return this.add({ do: what, zone: 'work', stage: this.stage }, 0);
  }

  handshake(what: 'signal' | 'await', handshake: string): this {
    if (what === 'signal') return this.add({ do: what, handshake, stage: this.stage }, 0);
    const move = this.steps.findLast((step) => step.do === 'move');
    const at = move?.do === 'move' ? move.place : 'home';
    return this.add({ do: what, handshake, at, stage: this.stage }, 0);
  }

  add(step: BareStep, seconds: number): this {
    this.steps.push({ ...step, seconds });
    return this;
  }
}

/** Gives every step its number and its time: robots run until they must wait for one another. */
function timed(writers: readonly StepWriter[]): TimedStep[][] {
  const signals = new Map<string, number>();
  const programs = writers.map((): TimedStep[] => []);
  const clocks = writers.map(() => 0);
  for (let moved = true; moved;) {
    moved = false;
    writers.forEach(({ steps }, w) => {
      for (;;) {
        const done = programs[w]!;
        const draft = steps[done.length];
        if (draft === undefined) return;
        const given = draft.do === 'await' ? signals.get(draft.handshake) : 0;
        if (given === undefined) return;
        const { seconds, ...step } = draft;
        const start = clocks[w]!;
        const end = Math.max(start + seconds, given);
        clocks[w] = end;
        if (draft.do === 'signal') signals.set(draft.handshake, end);
        done.push({ ...step, n: done.length + 1, start: rounded(start, 3), end: rounded(end, 3) });
        moved = true;
      }
    });
  }
  return programs;
}

/** The programs of all writers, timed and filled in, and the frames that they use; writers in the order of the robots. */
export const programsOf = (
  cell: Cell,
  stages: readonly Stage[],
  writers: readonly StepWriter[],
): Pick<GeometricPlan, 'programs' | 'frames'> => filledPrograms(cell, stages, timed(writers));

import { distance } from '../../src/geometry/vector.js';
import { sixOf, type Joints } from '../../src/kinematics/arm.js';
import { forward } from '../../src/kinematics/forward.js';
import { straightTime, travelTime } from '../../src/kinematics/travel.js';
import type { Cell, Handler, Welder } from '../../src/model/cell.js';
import type { GeometricPlan, PlanTack, Step } from '../../src/model/plan.js';

export type Six = [number, number, number, number, number, number];
type Untimed<T> = T extends unknown ? Omit<T, 'n' | 'start' | 'end'> : never;
type Draft = Untimed<Step> & { readonly seconds: number };

const rounded = (value: number, digits: number): number => Math.round(value * 10 ** digits) / 10 ** digits;

/** Joint angles as a plan writes them, degrees. */
export const degrees = (joints: Joints): Six =>
  [...joints].map((value) => rounded((value * 180) / Math.PI, 4)) as Six;
const radians = (stated: readonly number[]): Joints => sixOf((i) => (stated[i]! * Math.PI) / 180);

/** Writes one robot's steps one after the other, each with its length. */
export class StepWriter {
  readonly steps: Draft[] = [];
  stage = 0;
  private at: Six;

  constructor(
    readonly robot: Handler | Welder,
    private readonly cell: Cell,
  ) {
    this.at = degrees(robot.home);
  }

  joint(to: Six, place: string): this {
    const seconds = travelTime(this.robot.arm, radians(this.at), radians(to));
    this.at = to;
    return this.add({ do: 'move', path: 'joint', to, place, stage: this.stage }, seconds);
  }

  straight(to: Six, place: string): this {
    const [from, end] = [this.at, to].map((joints) => forward(this.robot.arm, radians(joints)).at);
    const { straightSpeed, straightAcceleration } = this.robot;
    const seconds = straightTime(distance(from!, end!), straightSpeed, straightAcceleration);
    this.at = to;
    return this.add({ do: 'move', path: 'straight', to, place, stage: this.stage }, seconds);
  }

  home(): this {
    return this.joint(degrees(this.robot.home), 'home');
  }

  tack(tack: PlanTack): this {
    const { speed, startSeconds, endSeconds } = this.cell.process;
    this.joint(tack.torch.clear, 'clear of the seam').straight(tack.torch.joints, 'seam');
    this.add(
      { do: 'tack', tack: tack.id, stage: this.stage },
      tack.length / speed + startSeconds + endSeconds,
    );
    this.at = tack.torch.jointsEnd;
    return this.straight(tack.torch.leave, 'clear of the seam');
  }

  zone(what: 'enter' | 'leave'): this {
    return this.add({ do: what, zone: 'work', stage: this.stage }, 0);
  }

  handshake(what: 'signal' | 'await', handshake: string): this {
    return this.add({ do: what, handshake, stage: this.stage }, 0);
  }

  add(step: Untimed<Step>, seconds: number): this {
    this.steps.push({ ...step, seconds });
    return this;
  }
}

type Program = GeometricPlan['programs'][number];

/** Gives every step its number and its time: robots run until they must wait for one another. */
export function timed(writers: readonly StepWriter[]): Program[] {
  const signals = new Map<string, number>();
  const programs = writers.map(({ robot }): Program => ({ robot: robot.id, duty: robot.duty, steps: [] }));
  const clocks = writers.map(() => 0);
  for (let moved = true; moved;) {
    moved = false;
    writers.forEach(({ steps }, w) => {
      for (;;) {
        const done = programs[w]!.steps;
        const draft = steps[done.length];
        if (draft === undefined) return;
        const given = draft.do === 'await' ? signals.get(draft.handshake) : 0;
        if (given === undefined) return;
        const { seconds, ...step } = draft;
        const start = clocks[w]!;
        const end = Math.max(start + seconds, given);
        clocks[w] = end;
        if (draft.do === 'signal') signals.set(draft.handshake, end);
        done.push({ ...step, n: done.length + 1, start: rounded(start, 3), end: rounded(end, 3) } as Step);
        moved = true;
      }
    });
  }
  return programs;
}

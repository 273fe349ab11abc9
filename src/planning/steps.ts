import { rounded } from '../base/order.js';
import type { Joints } from '../kinematics/arm.js';
import { sixOf } from '../kinematics/arm.js';
import { straightSamples } from '../kinematics/straight-samples.js';
import { straightMoveTime, travelTime } from '../kinematics/travel.js';
import {
  processIn,
  type Cell,
  type Gripper,
  type Handler,
  type Turntable,
  type Welder,
} from '../model/cell.js';
import type { Step, Zone } from '../model/plan.js';
import { turnSeconds } from '../model/table-turn.js';
import type { GripperChange } from '../facts/handling.js';
import { legEnd, type Route } from '../facts/routes.js';
import type { TorchMotion } from '../facts/torch-motion.js';

type WithoutTimes<T> = T extends unknown ? Omit<T, 'n' | 'start' | 'end'> : never;

/** A step of a robot program before it has a number and a place in time. Duration in whole milliseconds. */
export interface StepDraft {
  readonly step: WithoutTimes<Step>;
  readonly milliseconds: number;
}

/** Joint angles as a plan states them: degrees to 1e-4. */
export const statedJoints = (joints: Joints): [number, number, number, number, number, number] =>
  [...sixOf((i) => rounded((joints[i]! * 180) / Math.PI, 4))] as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];

const radians = (stated: readonly number[]): Joints => sixOf((i) => (stated[i]! * Math.PI) / 180);

const marked = (via: boolean): { via?: true } => (via ? { via } : {});

const toMilliseconds = (seconds: number): number => Math.round(seconds * 1000);

/** The turn of the work table before a stage, whoever commands it. */
export const turnStep = (turntable: Turntable, stage: number, from: number, to: number): StepDraft => ({
  step: { do: 'turn', to, stage },
  milliseconds: toMilliseconds(turnSeconds(turntable, from, to)),
});

/** Writes the steps of one robot and keeps where its arm is. */
export class StepWriter {
  readonly steps: StepDraft[] = [];
  private at: readonly number[];

  constructor(
    protected readonly robot: Handler | Welder,
    private readonly stage: number,
    from?: Joints,
  ) {
    this.at = statedJoints(from ?? robot.home);
  }

  move(to: Joints, place: string, via = false): this {
    const stated = statedJoints(to);
    const seconds = travelTime(this.robot.arm, radians(this.at), radians(stated));
    this.at = stated;
    return this.add(
      { do: 'move', path: 'joint', to: stated, place, ...marked(via), stage: this.stage },
      seconds,
    );
  }

  straight(to: Joints, place: string, millimetres: number, via = false): this {
    const stated = statedJoints(to);
    const { arm, straightSpeed, straightAcceleration } = this.robot;
    const samples = straightSamples(arm, radians(this.at), radians(stated));
    this.at = stated;
    const seconds = straightMoveTime(arm, samples, millimetres, straightSpeed, straightAcceleration);
    return this.add(
      { do: 'move', path: 'straight', to: stated, place, ...marked(via), stage: this.stage },
      seconds,
    );
  }

  /** The moves of a route, all but the last of them to points on the way. */
  along({ legs }: Route, place: string): this {
    legs.forEach((leg, i) => {
      const ends = i === legs.length - 1;
      const name = ends ? place : `on the way to ${place}`;
      if (leg.path === 'joint') this.move(legEnd(leg), name, !ends);
      else this.straight(legEnd(leg), name, leg.millimetres, !ends);
    });
    return this;
  }

  home(): this {
    return this.move(this.robot.home, 'home');
  }

  enter(zone: Zone = 'work'): this {
    return this.add({ do: 'enter', zone, stage: this.stage }, 0);
  }

  leave(zone: Zone = 'work'): this {
    return this.add({ do: 'leave', zone, stage: this.stage }, 0);
  }

  grip(part: string, gripper: Gripper, seconds: number): this {
    return this.add({ do: 'grip', part, gripper: gripper.id, stage: this.stage }, seconds);
  }

  act(kind: 'locate' | 'set-down' | 'hold' | 'let-go', part: string, seconds: number): this {
    return this.add({ do: kind, part, stage: this.stage }, seconds);
  }

  proofPull(part: string, force: number, seconds: number): this {
    return this.add({ do: 'proof-pull', part, force, stage: this.stage }, seconds);
  }

  /** Pressed against its neighbours; nothing for an arm that cannot. */
  seat(part: string, seating: Handler['seating']): this {
    if (seating === undefined) return this;
    return this.add({ do: 'seat', part, force: seating.force, stage: this.stage }, seating.seconds);
  }

  clamp(part: string, clamp: string, seconds: number): this {
    return this.add({ do: 'clamp', part, clamp, stage: this.stage }, seconds);
  }

  changeGripper(to: Gripper, { out, back }: GripperChange, seconds: number): this {
    this.along(out, `stand of ${to.id}`);
    this.add({ do: 'change-gripper', to: to.id, stage: this.stage }, seconds);
    return this.along(back, 'home');
  }

  /** One tack: onto the seam, along it with the arc burning, away from it; before it a search of its joint, if asked. */
  tack(
    id: string,
    motion: TorchMotion,
    length: number,
    stroke: number,
    cell: Cell,
    search: string | undefined,
  ): this {
    const { startSeconds, endSeconds } = cell.process;
    const { speed } = processIn(cell, motion.way.position);
    if (search !== undefined) {
      const seconds = cell.welder.seamSearch?.seconds ?? 0;
      this.add({ do: 'seam-search', joint: search, stage: this.stage }, seconds);
    }
    this.straight(motion.joints, `start of ${id}`, stroke);
    this.add({ do: 'tack', tack: id, stage: this.stage }, length / speed + startSeconds + endSeconds);
    this.at = statedJoints(motion.jointsEnd);
    return this.straight(motion.leave, `clear of ${id}`, stroke);
  }

  private add(step: WithoutTimes<Step>, seconds: number): this {
    this.steps.push({ step, milliseconds: toMilliseconds(seconds) });
    return this;
  }
}

export const totalMilliseconds = (steps: readonly StepDraft[]): number =>
  steps.reduce((sum, { milliseconds }) => sum + milliseconds, 0);

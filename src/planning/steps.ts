import { rounded } from '../base/order.js';
import type { ArmBody } from '../kinematics/arm-body.js';
import type { Joints, SixRow } from '../kinematics/arm.js';
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
import type { WorkFrame, Zone } from '../model/plan.js';
import { armBody, gripperAlone, torchLoad, type Load } from '../facts/arm-room.js';
import { turnSeconds } from '../model/table-turn.js';
import type { Grip } from '../facts/grips.js';
import type { GripperChange } from '../facts/handling.js';
import type { Route } from '../facts/routes.js';
import type { TorchMotion } from '../facts/torch-motion.js';

import type { ArmCourse } from './arms-apart.js';
import type { BareStep } from './bare-step.js';

/** A step of a robot program before it has a number and a place in time. Duration in whole milliseconds. */
export interface StepDraft {
  readonly step: BareStep;
  readonly milliseconds: number;
  /** The arm with its load while the step lasts. */
  readonly room: ArmCourse;
}

/** Joint angles as a plan states them: degrees to 1e-4. */
export const statedJoints = (joints: Joints): SixRow => [
  ...sixOf((i) => rounded((joints[i]! * 180) / Math.PI, 4)),
];

const radians = (stated: readonly number[]): Joints => sixOf((i) => (stated[i]! * Math.PI) / 180);

/** A straight move as a plan states it. */
interface StraightMove {
  readonly robot: Handler | Welder;
  readonly from: readonly number[];
  readonly millimetres: number;
  readonly stated: Joints;
  /** Joints on the way, radians. */
  readonly samples: readonly Joints[];
  readonly seconds: number;
}

/** By where it ends: the last that led there. The moves of a motion are written anew in every order of parts that is looked at. */
const MOVES = new WeakMap<Joints, StraightMove>();

function straightMove(
  robot: Handler | Welder,
  from: readonly number[],
  to: Joints,
  millimetres: number,
): StraightMove {
  const known = MOVES.get(to);
  if (known?.robot === robot && known.millimetres === millimetres && sameJoints(known.from, from))
    return known;
  const { arm, straightSpeed, straightAcceleration } = robot;
  const stated = statedJoints(to);
  const samples = straightSamples(arm, radians(from), radians(stated));
  const seconds = straightMoveTime(arm, samples, millimetres, straightSpeed, straightAcceleration);
  const move = { robot, from, millimetres, stated, samples, seconds };
  MOVES.set(to, move);
  return move;
}

/** By motion: joints along its tack. */
const ALONG = new WeakMap<TorchMotion, readonly Joints[]>();

function alongTack({ arm }: Handler | Welder, motion: TorchMotion): readonly Joints[] {
  let along = ALONG.get(motion);
  if (!along) ALONG.set(motion, (along = straightSamples(arm, motion.joints, motion.jointsEnd)));
  return along;
}

const sameJoints = (a: readonly number[], b: readonly number[]): boolean =>
  a.every((value, i) => value === b[i]);

const marked = (via: boolean): { via?: true } => (via ? { via } : {});

const toMilliseconds = (seconds: number): number => Math.round(seconds * 1000);

/**
 * The turn of the work table before a stage: the robot that commands it stands at its home. What a handling robot has on
 * its flange by then is known where the steps are strung together.
 */
export const turnStep = (
  turntable: Turntable,
  commander: Handler | Welder,
  stage: number,
  from: number,
  to: number,
): StepDraft => ({
  step: { do: 'turn', to, stage },
  milliseconds: toMilliseconds(turnSeconds(turntable, from, to)),
  room: {
    body: armBody(commander, commander.duty === 'weld' ? torchLoad(commander) : []),
    way: [commander.home],
  },
});

/** Writes the steps of one robot and keeps where its arm is. */
export class StepWriter {
  readonly steps: StepDraft[] = [];
  private at: readonly number[];
  private body: ArmBody;
  private frame: WorkFrame = 'cell';

  constructor(
    protected readonly robot: Handler | Welder,
    private readonly stage: number,
    from?: Joints,
  ) {
    this.at = statedJoints(from ?? robot.home);
    if (from) this.frame = 'weldment';
    this.body = armBody(robot, robot.duty === 'weld' ? torchLoad(robot) : []);
  }

  /** What is fixed to the flange from now on. */
  with(load: Load): this {
    this.body = armBody(this.robot, load);
    return this;
  }

  /** Moves from now on are taught in this frame. */
  in(frame: WorkFrame): this {
    this.frame = frame;
    return this;
  }

  move(to: Joints, place: string, via = false): this {
    const stated = statedJoints(to);
    const way = [radians(this.at), radians(stated)] as const;
    this.at = stated;
    return this.add(
      { do: 'move', path: 'joint', to: stated, frame: this.frame, place, ...marked(via), stage: this.stage },
      travelTime(this.robot.arm, ...way),
      way,
    );
  }

  straight(to: Joints, place: string, millimetres: number, via = false): this {
    const { stated, samples, seconds } = straightMove(this.robot, this.at, to, millimetres);
    this.at = stated;
    return this.add(
      {
        do: 'move',
        path: 'straight',
        to: [...stated],
        frame: this.frame,
        place,
        ...marked(via),
        stage: this.stage,
      },
      seconds,
      samples,
    );
  }

  /** The moves of a route, all but the last of them to points on the way. Home is a place of the cell. */
  along({ legs }: Route, place: string): this {
    legs.forEach((leg, i) => {
      const ends = i === legs.length - 1;
      if (ends && place === 'home') this.in('cell');
      const name = ends ? place : `on the way to ${place}`;
      if (leg.path === 'joint') this.move(leg.end, name, !ends);
      else this.straight(leg.end, name, leg.millimetres, !ends);
    });
    return this;
  }

  home(): this {
    return this.move(this.robot.home, 'home');
  }

  enter(zone: Zone = 'work'): this {
    if (zone === 'work') this.in('weldment');
    return this.add({ do: 'enter', zone, stage: this.stage }, 0);
  }

  leave(zone: Zone = 'work'): this {
    return this.add({ do: 'leave', zone, stage: this.stage }, 0);
  }

  grip(part: string, { gripper, group }: Pick<Grip, 'gripper' | 'group'>, seconds: number): this {
    const pads = group === undefined ? {} : { group };
    return this.add({ do: 'grip', part, gripper: gripper.id, ...pads, stage: this.stage }, seconds);
  }

  /** Asks whether a part lies at a station, where that has a sensor: the infeed. */
  sense(part: string, station: WorkFrame, seconds: number): this {
    return station === 'infeed' ? this.add({ do: 'part-present', part, stage: this.stage }, seconds) : this;
  }

  /** From home to the cleaner of the nozzle and home again, outside the work zone. */
  cleanNozzle({ joints, seconds }: NonNullable<Welder['cleaning']>): this {
    this.in('cell').move(joints, 'nozzle cleaner');
    return this.add({ do: 'clean-nozzle', stage: this.stage }, seconds).home();
  }

  checkEarth(seconds: number): this {
    return this.add({ do: 'earth-check', stage: this.stage }, seconds);
  }

  handOver(seconds: number): this {
    return this.add({ do: 'hand-over', stage: this.stage }, seconds);
  }

  act(kind: 'locate' | 'set-down' | 'hold' | 'cool' | 'let-go', part: string, seconds: number): this {
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

  /** A person at work, who closes a clamp on the part, if any, and lays these tacks. */
  byHand(part: string, seconds: number, clamp: string | undefined, tacks: readonly string[]): this {
    const closed = clamp === undefined ? {} : { clamp };
    const said = { planned: seconds, tacks: [...tacks], confirm: 'person' as const };
    return this.add({ do: 'manual', part, ...closed, ...said, stage: this.stage }, seconds);
  }

  changeGripper(to: Gripper, { out, back }: GripperChange, seconds: number): this {
    this.along(out, `stand of ${to.id}`);
    this.add({ do: 'change-gripper', to: to.id, stage: this.stage }, seconds).with(gripperAlone(to));
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
      const seconds = this.robot.duty === 'weld' ? (this.robot.seamSearch?.seconds ?? 0) : 0;
      this.add({ do: 'seam-search', joint: search, stage: this.stage }, seconds);
    }
    this.straight(motion.joints, `start of ${id}`, stroke);
    const seconds = length / speed + startSeconds + endSeconds;
    this.add({ do: 'tack', tack: id, stage: this.stage }, seconds, alongTack(this.robot, motion));
    this.at = statedJoints(motion.jointsEnd);
    this.add({ do: 'wire-check', tack: id, stage: this.stage }, cell.times.wireCheck);
    return this.straight(motion.leave, `clear of ${id}`, stroke);
  }

  /** Whether the tack laid last is good; what is done when it is not is put in once the whole plan is there. */
  accept(tack: string, seconds: number): this {
    return this.add({ do: 'accept', tack, rework: [], stage: this.stage }, seconds);
  }

  private add(step: BareStep, seconds: number, way: readonly Joints[] = [radians(this.at)]): this {
    this.steps.push({ step, milliseconds: toMilliseconds(seconds), room: { body: this.body, way } });
    return this;
  }
}

/** Of steps of several robots that begin at the same time, until the last of them is done. */
export const longestMilliseconds = (robots: readonly (readonly StepDraft[])[]): number =>
  Math.max(0, ...robots.map(totalMilliseconds));

export const totalMilliseconds = (steps: readonly StepDraft[]): number =>
  steps.reduce((sum, { milliseconds }) => sum + milliseconds, 0);

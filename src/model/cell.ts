import type { Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Arm, Joints } from '../kinematics/arm.js';
import type { LinkRadii } from '../kinematics/arm-body.js';
import type { CellFile } from './cell-file.js';
import type { Gripper } from './gripper.js';
import type { WeldingPosition } from './welding-position.js';

interface RobotCommon {
  readonly id: string;
  readonly base: Pose;
  readonly arm: Arm;
  readonly home: Joints;
  readonly radii: LinkRadii;
  readonly straightSpeed: number;
  readonly straightAcceleration: number;
  /** How far the flange may be off a taught pose, +- mm. */
  readonly accuracy: number;
}

/** What an arm may carry, and the force and moment that it can hold against; moments about the wrist centre. */
export interface Payload {
  /** kg */
  readonly mass: number;
  /** N mm */
  readonly moment: number;
  /** N */
  readonly force: number;
  /** About axes 4, 5 and 6, kg m2; undefined for no limit. */
  readonly inertia?: readonly [number, number, number] | undefined;
}

export interface Handler extends RobotCommon {
  readonly duty: 'handle';
  readonly payload: Payload;
  /** Seating with limited force: N, mm, mm, s; undefined when the robot cannot. */
  readonly seating:
    | { readonly force: number; readonly travel: number; readonly leaves: number; readonly seconds: number }
    | undefined;
}

export interface Welder extends RobotCommon {
  readonly duty: 'weld';
  readonly torch: Torch;
  /** Finding a seam by touch: +- mm, s; undefined when the robot cannot. */
  readonly seamSearch: { readonly accuracy: number; readonly seconds: number } | undefined;
  /** Cleaning its nozzle at a taught posture after at most so many arcs, s; absent: it has no cleaner. */
  readonly cleaning?:
    { readonly joints: Joints; readonly every: number; readonly seconds: number } | undefined;
}

export type { Gripper };

export interface Torch {
  readonly id: string;
  /** Pose of the wire tip in the flange frame; its z axis is the wire's direction of feed. */
  readonly tip: Pose;
  readonly stickOut: number;
  readonly nozzleRadius: number;
  /** Of the nozzle as a cylinder; 0 when one cone stands for nozzle and body. */
  readonly nozzleLength: number;
  /** At the rear end of the nozzle; never less than that of the nozzle, nor more than at the end of the body. */
  readonly bodyFrontRadius: number;
  /** At `bodyLength` from the tip. */
  readonly bodyRadius: number;
  readonly bodyLength: number;
}

/** A, V and mm/s, where a welding position asks for others than the process states. */
export interface ProcessChange {
  readonly current?: number | undefined;
  readonly voltage?: number | undefined;
  readonly speed?: number | undefined;
}

/** A stand with an opening that a part bridges along y; see the file schema. Lengths in mm. */
export interface TwoSidedStand {
  readonly pose: Pose;
  readonly size: readonly [number, number];
  readonly opening: readonly [number, number];
  /** Of its rims, below the top. */
  readonly depth: number;
  readonly overlap: number;
  readonly accuracy: number;
  readonly turnAccuracy: number;
}

/** A work table that turns about a vertical axis; degrees and seconds. */
export interface Turntable {
  /** In ascending order; 0 is one of them, and no two are a whole turn apart. */
  readonly angles: readonly number[];
  /** x and y of the axis in the cell, mm. */
  readonly axis: readonly [number, number];
  readonly speed: number;
  readonly acceleration: number;
  readonly settle: number;
  /** The robot whose program turns it. */
  readonly commander: string;
}

export interface Cell {
  readonly name: string;
  /** At least one, in the order of the file. */
  readonly handlers: readonly Handler[];
  /** At least one, in the order of the file. */
  readonly welders: readonly Welder[];
  readonly grippers: readonly Gripper[];
  /** Accuracies in the plane of a station: +- mm, and +- degrees about its vertical. */
  readonly infeed: { readonly pose: Pose; readonly accuracy: number; readonly turnAccuracy: number };
  /** Pose of the centre of the regrip table's top; its z axis is up. */
  readonly regrip: {
    readonly pose: Pose;
    readonly size: readonly [number, number];
    readonly accuracy: number;
    readonly turnAccuracy: number;
  };
  /** Undefined when the cell has none. */
  readonly twoSided: TwoSidedStand | undefined;
  /** Pose of the centre of the work table's top, at index angle 0; its z axis is up. */
  readonly table: {
    readonly pose: Pose;
    readonly size: readonly [number, number];
    readonly friction: number;
    readonly clamp: { readonly name: string; readonly force: number };
    /** How far the first part may be off its place, +- mm. */
    readonly firstPartAccuracy: number;
    /** Absent when the table stands still. */
    readonly turntable?: Turntable | undefined;
  };
  /** Pose of the weldment frame in the cell, with the table at index angle 0. */
  readonly weldmentPose: Pose;
  readonly keepOuts: readonly { readonly pose: Pose; readonly size: Vec3 }[];
  readonly process: {
    readonly current: number;
    readonly voltage: number;
    readonly speed: number;
    readonly arc: CellFile['process']['arc'];
    readonly startSeconds: number;
    readonly endSeconds: number;
    /** How long what is held is held on once its securing tacks are laid and the torch is away. */
    readonly coolingSeconds: number;
    /** What differs in the positions that are allowed; undefined when all are and nothing differs. */
    readonly positions: { readonly [P in WeldingPosition]?: ProcessChange | undefined } | undefined;
  };
  readonly times: {
    readonly grip: number;
    readonly release: number;
    readonly toolChange: number;
    readonly clamp: number;
    readonly settle: number;
    readonly proofPull: number;
    readonly locate: number;
    readonly accept: number;
    readonly partPresent: number;
    readonly wireCheck: number;
    readonly earthCheck: number;
    readonly handOver: number;
  };
}

/** All robots: those that handle, then those that weld, in the order of the file. */
export const robotsOf = ({
  handlers,
  welders,
}: Pick<Cell, 'handlers' | 'welders'>): readonly (Handler | Welder)[] => [...handlers, ...welders];

/** A welding robot of the cell by its name. */
export const welderNamed = ({ welders }: Pick<Cell, 'welders'>, name: string): Welder | undefined =>
  welders.find(({ id }) => id === name);

/** Whether tacks may be laid in a welding position. */
export const positionAllowed = ({ process }: Cell, position: WeldingPosition): boolean =>
  process.positions === undefined || process.positions[position] !== undefined;

/** Current (A), voltage (V) and speed along the seam (mm/s) of tacks in a welding position that is allowed. */
export function processIn(
  { process }: Cell,
  position: WeldingPosition,
): { readonly current: number; readonly voltage: number; readonly speed: number } {
  const change = process.positions?.[position];
  return {
    current: change?.current ?? process.current,
    voltage: change?.voltage ?? process.voltage,
    speed: change?.speed ?? process.speed,
  };
}

/** Seconds from the command to let go until a gripper has let go. */
export const releaseTime = ({ times }: Cell, { releaseSeconds }: Gripper): number =>
  times.release + releaseSeconds;

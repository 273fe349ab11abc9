import { compareText } from '../base/order.js';
import type { Pose } from '../geometry/pose.js';
import { fromRollPitchYaw } from '../geometry/pose.js';
import type { Arm, Joints } from '../kinematics/arm.js';
import { forearmLength, sixOf } from '../kinematics/arm.js';
import type { LinkRadii } from '../kinematics/arm-body.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import type { Cell, Handler, Torch, Turntable, TwoSidedStand, Welder } from '../model/cell.js';
import type { CellFile } from '../model/cell-file.js';
import { resolveGripper } from './resolve-gripper.js';

type RobotFile = CellFile['robots'][string];
type HandlerFile = Extract<RobotFile, { duty: 'handle' }>;
type WelderFile = Extract<RobotFile, { duty: 'weld' }>;

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

const poseOf = (at: Pose['at'], [roll, pitch, yaw]: Pose['at'] = [0, 0, 0]): Pose => ({
  at,
  turn: fromRollPitchYaw(roll, pitch, yaw),
});

/** Arms by the names of robots: those that were recognised in a URDF file. */
export type RecognisedArms = ReadonlyMap<string, Arm>;

/**
 * The cell of a file that passed its schema and `cellIssues`: radians, poses, defaults. Grippers by name. Every arm that
 * is given by a URDF file is among the recognised ones.
 */
export function resolveCell(file: CellFile, recognised: RecognisedArms): Cell {
  const { infeed, regrip, table } = file.stations;
  return {
    name: file.cell,
    ...robotsOf(file, recognised),
    grippers: Object.entries(file.grippers)
      .sort(([a], [b]) => compareText(a, b))
      .map(([id, gripper]) => resolveGripper(id, gripper)),
    infeed: {
      pose: poseOf(infeed.at, infeed.turn),
      accuracy: infeed.accuracy,
      turnAccuracy: infeed['turn-accuracy'],
    },
    regrip: {
      pose: poseOf(regrip.at, [0, 0, regrip.turn]),
      size: regrip.size,
      accuracy: regrip.accuracy,
      turnAccuracy: regrip['turn-accuracy'],
    },
    twoSided: twoSidedOf(file.stations['two-sided']),
    table: {
      pose: poseOf(table.at, [0, 0, table.turn]),
      size: table.size,
      friction: table.friction,
      clamp: { name: table['first-part'].clamp, force: table['first-part'].force },
      firstPartAccuracy: table['first-part'].accuracy,
      turntable: turntableOf(file),
    },
    weldmentPose: poseOf(table['weldment-at'] ?? table.at, [0, 0, table['weldment-turn']]),
    keepOuts: file['keep-outs'].map(({ at, size, turn }) => ({ pose: poseOf(at, [0, 0, turn]), size })),
    ...processOf(file),
  };
}

/** Its axis stands in the table centre, and the first welding robot turns it, unless the file says otherwise. */
function turntableOf({ stations: { table }, robots }: CellFile): Turntable | undefined {
  const { turntable } = table;
  if (turntable === undefined) return undefined;
  const { angles, at, speed, acceleration, settle, 'commanded-by': commander } = turntable;
  return {
    angles: [...angles].sort((a, b) => a - b),
    axis: at ?? [table.at[0], table.at[1]],
    ...{ speed, acceleration, settle },
    commander: commander ?? Object.keys(robots).find((id) => robots[id]!.duty === 'weld')!,
  };
}

const twoSidedOf = (stand: CellFile['stations']['two-sided']): TwoSidedStand | undefined =>
  stand && {
    pose: poseOf(stand.at, [0, 0, stand.turn]),
    size: stand.size,
    opening: stand.opening,
    depth: stand.depth,
    overlap: stand.overlap,
    accuracy: stand.accuracy,
    turnAccuracy: stand['turn-accuracy'],
  };

function robotsOf(file: CellFile, recognised: RecognisedArms): Pick<Cell, 'handlers' | 'welders'> {
  const robots = Object.entries(file.robots);
  return {
    handlers: robots
      .filter((entry): entry is [string, HandlerFile] => entry[1].duty === 'handle')
      .map(([id, handler]) => handlerOf(id, handler, recognised)),
    welders: robots
      .filter((entry): entry is [string, WelderFile] => entry[1].duty === 'weld')
      .map(([id, welder]): Welder => ({
        ...commonOf(id, welder, recognised),
        duty: 'weld',
        torch: torchOf(welder.torch, file.torches[welder.torch]!),
        seamSearch: welder['seam-search'],
        ...(welder.cleaning && { cleaning: cleaningOf(welder.cleaning) }),
      })),
  };
}

const cleaningOf = ({ joints, every, seconds }: NonNullable<WelderFile['cleaning']>): Welder['cleaning'] => ({
  joints: sixOf((i) => radians(joints[i]!)),
  ...{ every, seconds },
});

function commonOf(id: string, robot: RobotFile, recognised: RecognisedArms) {
  const arm = 'urdf' in robot.arm ? recognised.get(id)! : armOf(robot.arm);
  return {
    id,
    base: poseOf(robot.at, robot.turn),
    arm,
    home: sixOf((i) => radians(robot.home[i]!)) satisfies Joints,
    radii: radiiOf(robot, arm),
    straightSpeed: robot['straight-speed'],
    straightAcceleration: robot['straight-acceleration'],
    accuracy: robot.accuracy,
  };
}

/** Shares of the upper arm and forearm together that a link is thick where the file says nothing; our estimate. */
const THICKNESS = { column: 0.06, upperArm: 0.06, forearm: 0.05, wrist: 0.04 } as const;

function radiiOf({ links }: RobotFile, arm: Arm): LinkRadii {
  const span = arm.c2 + forearmLength(arm);
  return {
    column: links.column ?? THICKNESS.column * span,
    upperArm: links['upper-arm'] ?? THICKNESS.upperArm * span,
    forearm: links.forearm ?? THICKNESS.forearm * span,
    wrist: links.wrist ?? THICKNESS.wrist * span,
    dressPack: links['dress-pack'],
  };
}

const handlerOf = (id: string, robot: HandlerFile, recognised: RecognisedArms): Handler => ({
  ...commonOf(id, robot, recognised),
  duty: 'handle',
  payload: {
    mass: robot.payload.mass,
    moment: robot.payload.moment,
    force: robot.payload.force ?? robot.payload.mass * STANDARD_GRAVITY,
    ...(robot.payload.inertia ? { inertia: robot.payload.inertia } : {}),
  },
  seating: robot.seating,
});

function armOf(arm: Exclude<RobotFile['arm'], { urdf: string }>): Arm {
  const { a1, a2, b, c1, c2, c3, c4 } = arm;
  return {
    ...{ a1, a2, b, c1, c2, c3, c4 },
    offsets: sixOf((i) => radians(arm.offsets[i]!)),
    signs: sixOf((i) => arm.signs[i]!),
    limits: sixOf((i) => [radians(arm.limits[i]![0]), radians(arm.limits[i]![1])] as const),
    speeds: sixOf((i) => radians(arm.speeds[i]!)),
    accelerations: sixOf((i) => radians(arm.accelerations[i]!)),
    ...(arm.coupled === true ? { coupled: true } : {}),
    ...(arm.elbow ? { elbow: [radians(arm.elbow[0]), radians(arm.elbow[1])] as const } : {}),
  };
}

/** The wire tip is `length` ahead of the flange and `offset` to its side (+x), and turned about y by `bend`. */
function torchOf(id: string, torch: CellFile['torches'][string]): Torch {
  const { 'nozzle-radius': nozzle, 'body-radius': body, 'nozzle-length': long } = torch;
  return {
    id,
    tip: poseOf([torch.offset, 0, torch.length], [0, torch.bend, 0]),
    stickOut: torch['stick-out'],
    nozzleRadius: nozzle,
    nozzleLength: long ?? 0,
    bodyFrontRadius: long === undefined ? nozzle : (torch['body-front-radius'] ?? body),
    bodyRadius: body,
    bodyLength: torch['body-length'],
  };
}

function processOf({ process, times }: CellFile): Pick<Cell, 'process' | 'times'> {
  const { current, voltage, speed, arc } = process;
  const { grip, release, clamp, settle, locate, accept } = times;
  return {
    process: {
      ...{ current, voltage, speed, arc },
      startSeconds: process['start-seconds'],
      endSeconds: process['end-seconds'],
      coolingSeconds: process['cooling-seconds'],
      positions: process.positions,
    },
    times: {
      ...{ grip, release, clamp, settle, locate, accept },
      ...{ toolChange: times['tool-change'], proofPull: times['proof-pull'] },
      ...{ partPresent: times['part-present'], wireCheck: times['wire-check'] },
      ...{ earthCheck: times['earth-check'], handOver: times['hand-over'] },
    },
  };
}

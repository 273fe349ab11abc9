import { fromRollPitchYaw, NO_TURN, type Pose } from '../../src/geometry/pose.js';
import { sixOf, type Arm, type Joints } from '../../src/kinematics/arm.js';
import type { Cell } from '../../src/model/cell.js';
import type { MagnetGripper } from '../../src/model/gripper.js';

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const six = (values: readonly number[]): Joints => sixOf((i) => radians(values[i]!));

/** Our own invention: an arm of about two metres. */
const arm: Arm = {
  a1: 260,
  a2: -35,
  b: 0,
  c1: 620,
  c2: 800,
  c3: 840,
  c4: 120,
  offsets: six([0, 0, -90, 0, 0, 0]),
  signs: [1, 1, 1, 1, 1, 1],
  limits: sixOf((i) =>
    (
      [
        [-175, 175],
        [-100, 110],
        [-130, 80],
        [-200, 200],
        [-125, 125],
        [-355, 355],
      ] as const
    )[i]!.map(radians),
  ) as unknown as Arm['limits'],
  speeds: six([150, 140, 150, 260, 260, 360]),
  accelerations: six([450, 420, 450, 900, 900, 1200]),
};

const gripper = (
  id: string,
  pull: number,
  pads: MagnetGripper['pads'],
  diameter: number,
  length: number,
  y: number,
): MagnetGripper => ({
  id,
  kind: 'magnet',
  magnet: 'electro-permanent',
  pullPerPad: pull,
  pads,
  padDiameter: diameter,
  ratedThickness: 8,
  residual: 0.05,
  friction: 0.2,
  gapFactor: 0.75,
  arcDistance: 60,
  attractionDistance: 50,
  grade: 'N',
  temperature: 20,
  groups: [],
  releaseSeconds: 0,
  powerLoss: { kind: 'stored-seconds', seconds: Infinity },
  mass: 2.5,
  slip: 0.1,
  reach: 160,
  envelope: { length, width: 60, height: 160 },
  stand: [-650, y, 700],
});

const at = (x: number, y: number, z: number, yaw = 0): Pose => ({
  at: [x, y, z],
  turn: yaw === 0 ? NO_TURN : fromRollPitchYaw(0, 0, yaw),
});

const straight = {
  straightSpeed: 120,
  straightAcceleration: 600,
  accuracy: 0.1,
  radii: { column: 20, upperArm: 20, forearm: 15, wrist: 10, dressPack: undefined },
};

/** A bench between a handling and a welding robot; the weldment is turned by a quarter so that both reach it. */
export const testCell = (): Cell => ({
  name: 'test bench',
  handlers: [
    {
      id: 'handler',
      duty: 'handle',
      base: at(-1250, 0, 0),
      arm,
      home: six([0, -35, 25, 0, 100, 0]),
      ...straight,
      payload: { mass: 20, moment: 60_000, force: 196 },
      seating: undefined,
    },
  ],
  welders: [
    {
      id: 'welder',
      duty: 'weld',
      base: at(1250, 0, 0, 180),
      arm,
      home: six([0, -45, 25, 0, 65, 0]),
      ...straight,
      torch: {
        id: 'torch',
        tip: { at: [60, 0, 340], turn: fromRollPitchYaw(0, 35, 0) },
        stickOut: 15,
        nozzleRadius: 10,
        nozzleLength: 0,
        bodyFrontRadius: 10,
        bodyRadius: 25,
        bodyLength: 140,
      },
      seamSearch: undefined,
    },
  ],
  grippers: [
    gripper(
      'wide',
      450,
      [
        [-40, 0],
        [40, 0],
      ],
      45,
      140,
      -700,
    ),
    gripper('single', 600, [[0, 0]], 60, 60, 700),
  ],
  infeed: { pose: at(-1250, -1000, 300), accuracy: 0.3, turnAccuracy: 0.05 },
  regrip: { pose: at(-1250, 1000, 300), size: [500, 400], accuracy: 0.3, turnAccuracy: 0.03 },
  twoSided: undefined,
  table: {
    pose: at(0, 0, 500),
    size: [800, 600],
    friction: 0.2,
    clamp: { name: 'magnets', force: 1500 },
    firstPartAccuracy: 0.3,
  },
  weldmentPose: at(0, 0, 500, 90),
  keepOuts: [{ pose: at(0, 900, 300), size: [200, 200, 600] }],
  process: {
    ...{
      current: 190,
      voltage: 23,
      speed: 8,
      arc: 'mag',
      startSeconds: 0.6,
      endSeconds: 0.8,
      coolingSeconds: 0,
    },
    positions: undefined,
  },
  times: {
    ...{
      grip: 0.8,
      release: 1.2,
      toolChange: 8,
      clamp: 1.5,
      settle: 0.5,
      proofPull: 1.5,
      locate: 2,
      accept: 0,
    },
    ...{ partPresent: 0.3, wireCheck: 0.3, earthCheck: 0.5, handOver: 0 },
  },
});

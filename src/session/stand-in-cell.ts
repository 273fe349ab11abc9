import { boundsAround } from '../geometry/bounds.js';
import { IDENTITY, type Pose } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import type { Arm } from '../kinematics/arm.js';
import { sixOf } from '../kinematics/arm.js';
import type { Cell } from '../model/cell.js';
import { shapeSolid } from '../model/part-geometry.js';
import type { Weldment } from '../model/weldment.js';

const ARM: Arm = {
  ...{ a1: 0, a2: 0, b: 0, c1: 1, c2: 1, c3: 1, c4: 0 },
  offsets: sixOf(() => 0),
  signs: sixOf(() => 1 as const),
  limits: sixOf(() => [-Math.PI, Math.PI] as const),
  speeds: sixOf(() => 1),
  accelerations: sixOf(() => 1),
};

const robot = {
  base: IDENTITY,
  arm: ARM,
  home: sixOf(() => 0),
  straightSpeed: 1,
  straightAcceleration: 1,
  accuracy: 0,
  radii: { column: 1, upperArm: 1, forearm: 1, wrist: 1, dressPack: undefined },
};

/**
 * A cell that only lends a weldment a table to stand on, for looking at it without a cell: a wide table under its
 * lowest part. Nothing that depends on robots or grippers may be asked of it.
 */
export function standInCell(weldment: Weldment): Cell {
  const solids = weldment.parts.map(({ shape, pose }) => placeSolid(shapeSolid(shape), pose));
  const { low, high } = boundsAround(solids.map(({ bounds }) => bounds));
  const middle = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2] as const;
  const under: Pose = { at: [middle[0], middle[1], low[2]], turn: IDENTITY.turn };
  const wide = [2 * (high[0] - low[0]) + 1000, 2 * (high[1] - low[1]) + 1000] as const;
  return {
    name: 'stand-in',
    handlers: [
      {
        id: 'handler',
        duty: 'handle',
        ...robot,
        payload: { mass: 1, moment: 1, force: 1 },
        seating: undefined,
      },
    ],
    welders: [
      {
        id: 'welder',
        duty: 'weld',
        ...robot,
        torch: {
          ...{ id: 'torch', tip: IDENTITY, stickOut: 15 },
          ...{ nozzleRadius: 8, nozzleLength: 0, bodyFrontRadius: 8, bodyRadius: 30, bodyLength: 180 },
        },
        seamSearch: undefined,
      },
    ],
    grippers: [],
    infeed: { pose: IDENTITY, accuracy: 0, turnAccuracy: 0 },
    regrip: { pose: IDENTITY, size: [1, 1], accuracy: 0, turnAccuracy: 0 },
    twoSided: undefined,
    table: {
      pose: under,
      size: wide,
      friction: 0.2,
      clamp: { name: 'none', force: 0 },
      firstPartAccuracy: 0,
    },
    weldmentPose: IDENTITY,
    keepOuts: [],
    process: {
      ...{ current: 1, voltage: 1, speed: 1, arc: 'mag', startSeconds: 0, endSeconds: 0, coolingSeconds: 0 },
      positions: undefined,
    },
    times: {
      ...{ grip: 0, release: 0, toolChange: 0, clamp: 0, settle: 0, proofPull: 0, locate: 0, accept: 0 },
      ...{ partPresent: 0, wireCheck: 0, earthCheck: 0, handOver: 0 },
    },
  };
}

import { place, rotate, type Pose } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { Cell } from '../../src/model/cell.js';
import { buildScene, type Scene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS, type Settings } from '../../src/model/settings.js';
import type { Part } from '../../src/model/weldment.js';
import type { HeldPart } from '../../src/rules/assembly.js';
import type { ShrinkingTack } from '../../src/rules/distortion-tacks.js';
import { testCell } from '../support/cell.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

export const BASE = 0;
export const WEB = 1;
export const RIB = 2;

/** Half of the thickness of the web, and the top of the base, mm. */
export const SIDE = 4;
const TOP = 10;
export const SEAM = 300;

export interface TeeOptions {
  /** How high the web stands above the base, mm. */
  readonly gap?: number;
  readonly settings?: Settings;
  readonly cell?: Cell;
  /** Mass of a block 200 mm wide in place of the web, kg; leave out for a web. */
  readonly web?: number;
  readonly tolerances?: Scene['weldment']['tolerances'];
}

const block = (mass: number): Part => ({
  ...steelPart('web', plateShape(SEAM, 200, 120), [0, 0, TOP + 60]),
  massGiven: mass,
});

const parts = (gap: number): readonly [Part, Part, Part] => [
  steelPart('base', plateShape(320, 320, TOP), [0, 0, TOP / 2]),
  steelPart('web', plateShape(SEAM, 120, 2 * SIDE), [0, 0, TOP + 60 + gap], [-90, 0, 0]),
  steelPart('rib', plateShape(140, 120, 8), [0, 70 + SIDE, TOP + 60], [90, 0, 90]),
];

/** A T of a base and a web along x across its middle, and a rib that stiffens it on its side of positive y. */
export function teeScene({
  gap = 0,
  web,
  settings = DEFAULT_SETTINGS,
  cell = testCell(),
  tolerances = [],
}: TeeOptions = {}): Scene {
  const [base, plate, rib] = parts(gap);
  const made = web === undefined ? [base, plate, rib] : [base, block(web)];
  return buildScene({ ...standWeldment(), parts: made, tolerances }, cell, settings);
}

const half = Math.SQRT1_2;

/** A tack between base and web, by its middle along x, on the side of negative or positive y; in the cell of a scene. */
export function webTack({ cell }: Scene, x: number, side: -1 | 1, gap = 0, off = SIDE): ShrinkingTack {
  const { weldmentPose } = cell;
  const turned = (v: Vec3): Vec3 => rotate(weldmentPose.turn, v);
  return {
    ...{ id: `${side < 0 ? 'right' : 'left'}@${x}`, seam: side < 0 ? 'right' : 'left', a: BASE, b: WEB },
    at: place(weldmentPose, [x, side * off, TOP]),
    along: turned([1, 0, 0]),
    open: turned([0, side * half, half]),
    ...{ length: 40, leg: 4, gap, seamLength: SEAM, type: 'fillet' },
  };
}

/** A tack between web and rib, halfway up, on the side of negative x. */
export function ribTack({ cell }: Scene): ShrinkingTack {
  const { weldmentPose } = cell;
  const turned = (v: Vec3): Vec3 => rotate(weldmentPose.turn, v);
  return {
    ...{ id: 'rib', seam: 'rib', a: WEB, b: RIB },
    at: place(weldmentPose, [-4, SIDE, TOP + 60]),
    along: turned([0, 0, 1]),
    open: turned([-half, half, 0]),
    ...{ length: 40, leg: 4, gap: 0, seamLength: 120, type: 'fillet' },
  };
}

/** The web held on its side of negative y, near its top. */
export function webHold({ cell }: Scene): HeldPart {
  return {
    part: WEB,
    grip: { face: '+z', position: [0, -35], turn: 0 },
    gripper: cell.grippers[0]!,
    robot: cell.handlers[0]!,
  };
}

/** What turns with the weldment, seen in its own frame. */
export const inWeldment = ({ cell }: Scene, v: Vec3): Vec3 => {
  const { turn } = cell.weldmentPose;
  const back: Pose['turn'] = [
    turn[0],
    turn[3],
    turn[6],
    turn[1],
    turn[4],
    turn[7],
    turn[2],
    turn[5],
    turn[8],
  ];
  return rotate(back, v);
};

import { frustumPiece, placePiece } from '../geometry/convex.js';
import { compose, fromRollPitchYaw, IDENTITY, NO_TURN, place, rotate, type Pose } from '../geometry/pose.js';
import { makeSolid, type Solid } from '../geometry/solid.js';
import { profileTime } from '../kinematics/travel.js';
import type { Cell, Turntable } from './cell.js';
import { keepOutSolids } from './placement.js';
import type { Scene } from './scene.js';

/**
 * A table that turns takes the weldment with it, so the geometry of the weldment is that at index angle 0 whatever the
 * angle: what stands fixed in the cell is seen from the table as turned the other way about its axis.
 */

/** The turn by `degrees` about the axis of a turntable, as a pose that takes points of the cell to where they come. */
export function tablePose({ axis: [x, y] }: Turntable, degrees: number): Pose {
  const turn = fromRollPitchYaw(0, 0, degrees);
  const [dx, dy] = rotate(turn, [x, y, 0]);
  return { at: [x - dx, y - dy, 0], turn };
}

/** From the cell, with the table at an index angle, to the table's own frame, which is the cell's at index angle 0. */
export const seenFromTable = ({ table: { turntable } }: Cell, degrees: number): Pose =>
  turntable === undefined || degrees === 0 ? IDENTITY : tablePose(turntable, -degrees);

/** From the table's own frame to the cell with the table at an index angle. */
export const inCellAt = ({ table: { turntable } }: Cell, degrees: number): Pose =>
  turntable === undefined || degrees === 0 ? IDENTITY : tablePose(turntable, degrees);

/**
 * The cell as seen from its table at an index angle: all that does not turn with the table, robots, stations, tool
 * stands and keep-outs, turned back; the cell itself at 0 or when its table stands still.
 */
export function cellAt(cell: Cell, degrees: number): Cell {
  if (cell.table.turntable === undefined || degrees === 0) return cell;
  const seen = seenFromTable(cell, degrees);
  const turned = <T extends { readonly pose: Pose }>(one: T): T => ({
    ...one,
    pose: compose(seen, one.pose),
  });
  const based = <T extends { readonly base: Pose }>(one: T): T => ({ ...one, base: compose(seen, one.base) });
  return {
    ...cell,
    handlers: cell.handlers.map(based),
    welders: cell.welders.map(based),
    grippers: cell.grippers.map((gripper) => ({ ...gripper, stand: place(seen, gripper.stand) })),
    infeed: turned(cell.infeed),
    regrip: turned(cell.regrip),
    twoSided: cell.twoSided && turned(cell.twoSided),
    keepOuts: cell.keepOuts.map(turned),
  };
}

/** The scene with its cell as seen from the table at an index angle; the weldment is where it always is. */
export function sceneAt(scene: Scene, degrees: number): Scene {
  const cell = cellAt(scene.cell, degrees);
  return cell === scene.cell ? scene : { ...scene, cell, keepOuts: keepOutSolids(cell) };
}

/** Index angles of the work table, degrees, in ascending order; only 0 where it stands still. */
export const indexAngles = ({ table: { turntable } }: Cell): readonly number[] => turntable?.angles ?? [0];

/** Degrees from one index angle to another the shorter way; the table may turn on and on. */
export const turnBetween = (from: number, to: number): number =>
  Math.abs(((((to - from) % 360) + 540) % 360) - 180);

/** Seconds from one index angle to another, until the table is still. */
export const turnSeconds = ({ speed, acceleration, settle }: Turntable, from: number, to: number): number =>
  profileTime(turnBetween(from, to), speed, acceleration) + settle;

/** Sides of the room that something takes as it goes round; they touch the circle from outside, 0.5 % beyond it. */
const ROUND_SIDES = 32;

/**
 * The room that a solid takes while the table turns all the way round: the full cylinder about the axis that contains
 * it at every angle, also where it passes twice or not at all; larger than the way of a turn, never smaller.
 */
export function turningRoom({ axis }: Turntable, solid: Solid): Solid {
  const corners = solid.pieces.flatMap(({ vertices }) => vertices);
  const radius = Math.max(...corners.map(([x, y]) => Math.hypot(x - axis[0], y - axis[1])));
  const [low, high] = [solid.bounds.low[2], solid.bounds.high[2]];
  const round = frustumPiece(radius, low, radius, high, ROUND_SIDES);
  return makeSolid([placePiece(round, { at: [axis[0], axis[1], 0], turn: NO_TURN })], [], solid);
}

/** The work table as it may stand while robots are elsewhere: at any angle, where it turns. */
export const tableAnyhow = ({ cell, table }: Pick<Scene, 'cell' | 'table'>): Solid =>
  cell.table.turntable === undefined ? table : turningRoom(cell.table.turntable, table);

/**
 * The scene for what robots do elsewhere: where the table turns, it and every part on it take the room that they need
 * to go all the way round. Larger than they are at any angle and on the way between two, never smaller.
 */
export function sceneAnyhow(scene: Scene): Scene {
  const { turntable } = scene.cell.table;
  if (turntable === undefined) return scene;
  const parts = scene.parts.map((placed) => ({ ...placed, solid: turningRoom(turntable, placed.solid) }));
  return { ...scene, table: tableAnyhow(scene), parts };
}

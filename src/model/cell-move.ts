import { inverse, compose, fromRollPitchYaw, multiply, rotate, type Pose } from '../geometry/pose.js';
import { add, length, subtract, type Vec3 } from '../geometry/vector.js';
import { robotsOf, type Cell } from './cell.js';

/** What of a cell may be put elsewhere: the work table with the weldment on it, the infeed, or the base of a robot. */
export type Movable =
  { readonly what: 'table' } | { readonly what: 'infeed' } | { readonly what: 'robot'; readonly id: string };

/** One change of a cell: a shift, and a turn about the vertical through the origin of what is moved. */
export interface CellMove {
  readonly moved: Movable;
  /** In the cell, mm. */
  readonly shift: Vec3;
  readonly degrees: number;
}

/** A degree of turning counts as much as this many mm: what a point 290 mm from the axis moves (our choice). */
export const MM_PER_DEGREE = 5;

/** Size of a change by which changes are compared, mm: length of the shift, and `MM_PER_DEGREE` for each degree. */
export const moveSize = ({ shift, degrees }: CellMove): number =>
  length(shift) + MM_PER_DEGREE * Math.abs(degrees);

/** Everything that can be moved, in the order in which changes of equal size are tried. */
export const movables = ({ handlers, welders }: Cell): readonly Movable[] => [
  { what: 'table' },
  ...[...welders, ...handlers].map(({ id }): Movable => ({ what: 'robot', id })),
  { what: 'infeed' },
];

function poseOf(cell: Cell, moved: Movable): Pose {
  switch (moved.what) {
    case 'table':
      return cell.table.pose;
    case 'infeed':
      return cell.infeed.pose;
    case 'robot':
      return robotsOf(cell).find(({ id }) => id === moved.id)!.base;
  }
}

/** A pose that goes along with what is moved. */
function movedPose(cell: Cell, { moved, shift, degrees }: CellMove, pose: Pose): Pose {
  const centre = poseOf(cell, moved).at;
  const turn = fromRollPitchYaw(0, 0, degrees);
  return {
    at: add(add(centre, rotate(turn, subtract(pose.at, centre))), shift),
    turn: multiply(turn, pose.turn),
  };
}

/** The rigid motion of what is moved, from its old place to its new one in the frame of the cell. */
export function motionOf(cell: Cell, move: CellMove): Pose {
  const pose = poseOf(cell, move.moved);
  return compose(movedPose(cell, move, pose), inverse(pose));
}

/** The cell after a change. Stands of grippers, the other stations and the keep-outs stay where they are. */
export function movedCell(cell: Cell, move: CellMove): Cell {
  const go = (pose: Pose): Pose => movedPose(cell, move, pose);
  const { moved } = move;
  switch (moved.what) {
    case 'table':
      return {
        ...cell,
        table: { ...cell.table, pose: go(cell.table.pose) },
        weldmentPose: go(cell.weldmentPose),
      };
    case 'infeed':
      return { ...cell, infeed: { ...cell.infeed, pose: go(cell.infeed.pose) } };
    case 'robot': {
      const based = <T extends { readonly id: string; readonly base: Pose }>(robot: T): T =>
        robot.id === moved.id ? { ...robot, base: go(robot.base) } : robot;
      return { ...cell, welders: cell.welders.map(based), handlers: cell.handlers.map(based) };
    }
  }
}

import { compose, IDENTITY, NO_TURN, type Pose } from '../geometry/pose.js';
import type { Cell, Handler, Welder } from './cell.js';
import type { ToolKind, WorkFrame } from './frames.js';
import { stationOf } from './stations.js';
import { inCellAt } from './table-turn.js';

/** Name of the tool frame of an arm that carries nothing that the plan knows. */
export const FLANGE = 'flange';

/** A work frame in the cell with the table at an index angle (degrees); undefined for a station that the cell has not. */
export function workFramePose(cell: Cell, name: WorkFrame, angle: number): Pose | undefined {
  if (name === 'cell') return IDENTITY;
  if (name === 'weldment') return compose(inCellAt(cell, angle), cell.weldmentPose);
  return stationOf(cell, name)?.pose;
}

/** A tool frame from the flange of a robot, and what it belongs to; undefined for a name that the robot has no use for. */
export function toolFrame(
  cell: Cell,
  robot: Handler | Welder,
  name: string,
): { readonly kind: ToolKind; readonly pose: Pose } | undefined {
  if (robot.duty === 'weld')
    return name === robot.torch.id ? { kind: 'torch', pose: robot.torch.tip } : undefined;
  const gripper = cell.grippers.find(({ id }) => id === name);
  if (gripper) return { kind: 'gripper', pose: { at: [0, 0, gripper.reach], turn: NO_TURN } };
  return name === FLANGE ? { kind: 'flange', pose: IDENTITY } : undefined;
}

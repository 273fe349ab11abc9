import { rounded } from '../../../base/order.js';
import type { CellFile } from '../../../model/cell-file.js';
import type { CellMove } from '../../../model/cell-move.js';
import type { Edit } from '../../../model/tried-remedy.js';

type Point = readonly [number, number, number];

const tidy = (point: Point): Point => [rounded(point[0], 3), rounded(point[1], 3), rounded(point[2], 3)];

const shifted = (point: Point, by: Point): Point =>
  tidy([point[0] + by[0], point[1] + by[1], point[2] + by[2]]);

/** A point that goes along with something that is turned about the vertical through a centre, and shifted. */
function along(point: Point, centre: Point, { shift, degrees }: CellMove): Point {
  const [x, y] = [point[0] - centre[0], point[1] - centre[1]];
  const angle = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return shifted([centre[0] + x * cos - y * sin, centre[1] + x * sin + y * cos, point[2]], shift);
}

/** What to write into a cell file so that it says what `movedCell` makes of the cell. */
export function editsOfMove(cell: CellFile, move: CellMove): readonly Edit[] {
  const { moved, shift, degrees } = move;
  const edit = (path: readonly string[], from: unknown, to: unknown): Edit[] =>
    JSON.stringify(from) === JSON.stringify(to)
      ? []
      : [{ file: 'cell', path, ...(from !== undefined && { from }), to }];
  if (moved.what === 'table') return tableEdits(cell, move, edit);
  const path = moved.what === 'infeed' ? ['stations', 'infeed'] : ['robots', moved.id];
  const { at, turn } = moved.what === 'infeed' ? cell.stations.infeed : cell.robots[moved.id]!;
  const [roll, pitch, yaw] = turn ?? [0, 0, 0];
  return [
    ...edit([...path, 'at'], at, shifted(at, shift)),
    ...(degrees === 0 ? [] : edit([...path, 'turn'], turn, [roll, pitch, rounded(yaw + degrees, 3)])),
  ];
}

type MakeEdit = (path: readonly string[], from: unknown, to: unknown) => readonly Edit[];

/** The table takes the weldment along, and the axis that it turns about. */
function tableEdits({ stations: { table } }: CellFile, move: CellMove, edit: MakeEdit): readonly Edit[] {
  const path = (key: string): readonly string[] => ['stations', 'table', key];
  const { at, 'weldment-at': weldment, turntable } = table;
  const axis = turntable?.at;
  return [
    ...edit(path('at'), at, shifted(at, move.shift)),
    ...edit(path('turn'), table.turn, rounded(table.turn + move.degrees, 3)),
    ...(weldment ? edit(path('weldment-at'), weldment, along(weldment, at, move)) : []),
    ...edit(path('weldment-turn'), table['weldment-turn'], rounded(table['weldment-turn'] + move.degrees, 3)),
    ...(axis
      ? edit([...path('turntable'), 'at'], axis, along([axis[0], axis[1], 0], at, move).slice(0, 2))
      : []),
  ];
}

import { snap } from '../base/order.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Cell } from '../model/cell.js';
import { movables, moveSize, type CellMove, type Movable } from '../model/cell-move.js';

/** Shifts along one axis of the cell, mm: a hand's breadth apart, as far as a table is moved without a new layout. */
const SHIFTS = [50, 100, 150, 200, 250, 300].flatMap((shift) => [shift, -shift]);
/** Turns about the vertical, degrees. */
const TURNS = [...Array.from({ length: 11 }, (_, i) => 15 * (i + 1)).flatMap((turn) => [turn, -turn]), 180];
const AXES = [0, 1, 2] as const;

const shifted = (...by: readonly (readonly [axis: 0 | 1 | 2, mm: number])[]): Vec3 => {
  const shift: [number, number, number] = [0, 0, 0];
  for (const [axis, mm] of by) shift[axis] = mm;
  return shift;
};

/** Every change of one thing: one of its coordinates x, y, z and turn at a time, then two. */
function movesOf(moved: Movable): CellMove[] {
  const still = shifted();
  const single = AXES.flatMap((axis) => SHIFTS.map((mm) => ({ shift: shifted([axis, mm]), degrees: 0 })));
  const turned = TURNS.map((degrees) => ({ shift: still, degrees }));
  const double = AXES.flatMap((p) =>
    AXES.filter((q) => q > p).flatMap((q) =>
      SHIFTS.flatMap((a) => SHIFTS.map((b) => ({ shift: shifted([p, a], [q, b]), degrees: 0 }))),
    ),
  );
  const both = single.flatMap(({ shift }) => TURNS.map((degrees) => ({ shift, degrees })));
  return [...single, ...turned, ...double, ...both].map((change) => ({ moved, ...change }));
}

/**
 * The grid of changes that advice on a cell is searched on, our choice: the work table with the weldment, the base of
 * each robot or the infeed is shifted by up to 300 mm in steps of 50 along x, y and z and turned about the vertical in
 * steps of 15 degrees, in one or two of these four coordinates at a time. The smallest change first, by `moveSize`; of
 * equals in the order in which they are listed here.
 */
export const cellGrid = (cell: Cell): readonly CellMove[] =>
  movables(cell)
    .flatMap(movesOf)
    .map((move, i) => ({ move, i, size: snap(moveSize(move), 1e-6) }))
    .sort((p, q) => p.size - q.size || p.i - q.i)
    .map(({ move }) => move);

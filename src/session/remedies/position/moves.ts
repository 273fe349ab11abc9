import type { Vec3 } from '../../../geometry/vector.js';
import { movables, moveSize, type CellMove, type Movable } from '../../../model/cell-move.js';
import { adviseEachMove } from '../../cell-advice.js';
import type { Change } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';
import { stuckParts, type Trouble } from '../trouble.js';
import { editsOfMove } from './cell-edits.js';
import { moveWords } from './move-words.js';
import { isPhysical } from './out-of-reach.js';

/** To what a change of place is found, mm and degrees (our choice: as exactly as a table is put down). */
const STEP = 10;
const STEP_DEGREES = 5;
/** What the grid of the advice is made of. */
const GRID = 50;
const GRID_DEGREES = 15;
/** Changes of this size, `moveSize`, count as the largest. */
const LARGEST = 600;

const KINDS: Readonly<Record<Movable['what'], string>> = {
  table: 'moved-table',
  robot: 'moved-robot',
  infeed: 'moved-infeed',
};

/** Ends in which a robot, the table or the infeed is moved or turned so that all that a plan needs is in reach. */
export function moves(trouble: Trouble): readonly Ladder[] {
  const { facts, programs } = trouble;
  const stuck = stuckParts(trouble, 'no-handling', 'no-securing');
  if (stuck.length === 0) return [];
  const advised = adviseEachMove(facts, programs).flatMap(({ better }) =>
    better && better.unmet.length === 0 ? [better.move] : [],
  );
  if (advised.length > 0)
    return farAndFarther(
      trouble,
      advised.toSorted((p, q) => moveSize(p) - moveSize(q)),
    );
  return isPhysical(trouble) ? [ladderOf(trouble, blind(trouble), false)] : [];
}

/**
 * What is advised for reach alone, as little of it as will do; and where that does not help, farther the same way, since
 * what is just in reach may be out of it with the hold and the tacks that the loads ask for.
 */
const farAndFarther = (trouble: Trouble, advised: readonly CellMove[]): readonly Ladder[] => [
  ...advised.map((move) => ladderOf(trouble, finer(move), true)),
  ...advised
    .filter(({ degrees }) => degrees === 0)
    .map((move) => ({ ...ladderOf(trouble, [farther(move)], false), otherwise: true })),
];

/**
 * How much farther, mm (our choice). Measured on four shifts that reach advises, in a story and in one whose welder was moved
 * away by 450 mm: with each of them a plan is found as advised, and with 50, 100 and 150 mm more too, so that nothing hangs on it there;
 * with 300 mm more a table that is advised 200 mm has none, since it leaves the reach on its other side. It once helped where the
 * advised shift alone did not (one case).
 */
const FARTHER = 2 * GRID;

/** A shift by more along the axis on which it is longest. */
function farther({ moved, shift, degrees }: CellMove): CellMove {
  const longest = Math.max(...shift.map(Math.abs));
  const axis = shift.findIndex((mm) => Math.abs(mm) === longest);
  const more = shift.map((mm, i) => (i === axis ? mm + Math.sign(mm) * FARTHER : mm));
  return { moved, shift: more as unknown as Vec3, degrees };
}

/** The steps between the grid's next smaller change of the same kind, which is too little, and this one. */
function finer(move: CellMove): readonly CellMove[] {
  const axes = move.shift.filter((mm) => mm !== 0).length;
  if (axes === 1 && move.degrees === 0) {
    const far = Math.hypot(...move.shift);
    return Array.from({ length: GRID / STEP }, (_, i) => far - GRID + STEP * (i + 1)).map((mm) => ({
      ...move,
      shift: move.shift.map((one) =>
        Math.sign(one) * mm === 0 ? 0 : Math.sign(one) * mm,
      ) as unknown as Vec3,
    }));
  }
  if (axes > 0) return [move];
  const way = Math.sign(move.degrees);
  return Array.from({ length: GRID_DEGREES / STEP_DEGREES }, (_, i) => ({
    ...move,
    degrees: move.degrees - way * (GRID_DEGREES - STEP_DEGREES * (i + 1)),
  }));
}

/** Moves of the work table that are tried where reach tells nothing: arms that meet something, wrists too low. */
function blind({ facts }: Trouble): readonly CellMove[] {
  const [table] = movables(facts.scene.cell);
  const move = (shift: Vec3, degrees = 0): CellMove => ({ moved: table!, shift, degrees });
  return [
    ...[move([100, 0, 0]), move([-100, 0, 0]), move([0, 100, 0]), move([0, -100, 0])],
    ...[move([0, 0, 100]), move([0, 0, 0], 90), move([0, 0, 0], 180)],
  ];
}

function ladderOf({ cell }: Trouble, all: readonly CellMove[], monotone: boolean): Ladder {
  const changes = all.map((move): Change => ({
    words: moveWords(cell, move),
    edits: editsOfMove(cell, move),
    size: Math.min(1, moveSize(move) / LARGEST),
  }));
  return { kind: KINDS[all[0]!.moved.what], cost: 'position', changes, monotone };
}

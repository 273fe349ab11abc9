import type { CellFile } from '../../../model/cell-file.js';
import type { CellMove, Movable } from '../../../model/cell-move.js';

type Point = readonly [number, number, number];

const nameOf = (moved: Movable): string =>
  moved.what === 'robot' ? moved.id : moved.what === 'table' ? 'the work table' : 'the infeed';

/** Everything in a cell toward which something can be moved, with its place. */
const landmarks = ({ robots, stations }: CellFile): readonly (readonly [string, Point])[] => [
  ...Object.entries(robots).map(([id, { at }]): [string, Point] => [id, at]),
  ['the work table', stations.table.at],
  ['the infeed', stations.infeed.at],
];

const AXES = ['x', 'y', 'z'] as const;

/** From this share of a shift on it is said to be toward something, or away from it: 25 degrees at most. */
const ALONG = 0.9;

/** `toward welder`, where something stands about there or about the other way. */
function direction(cell: CellFile, { moved, shift }: CellMove): string {
  const marks = landmarks(cell);
  const name = nameOf(moved);
  const at = marks.find(([id]) => id === name)?.[1];
  const long = Math.hypot(shift[0], shift[1]);
  if (at === undefined || long === 0) return '';
  const share = ([, other]: readonly [string, Point]): number => {
    const [x, y] = [other[0] - at[0], other[1] - at[1]];
    return (x * shift[0] + y * shift[1]) / ((Math.hypot(x, y) || Infinity) * long);
  };
  const others = marks.filter(([id]) => id !== name);
  const ahead = others.find((mark) => share(mark) > ALONG);
  const behind = others.find((mark) => share(mark) < -ALONG);
  return ahead ? `toward ${ahead[0]}` : behind ? `away from ${behind[0]}` : '';
}

/** A change of a cell as a request: `move the work table 80 mm toward welder (x +80)`. */
export function moveWords(cell: CellFile, move: CellMove): string {
  const { moved, shift, degrees } = move;
  const name = nameOf(moved);
  const turn = degrees === 0 ? '' : `turn ${name} by ${degrees} deg about its vertical`;
  const by = AXES.flatMap((axis, i) => {
    const mm = shift[i as 0 | 1 | 2];
    return mm === 0 ? [] : [`${axis} ${mm > 0 ? '+' : ''}${mm}`];
  }).join(', ');
  if (by === '') return turn;
  const [x, y, z] = shift;
  const where = z === 0 ? direction(cell, move) : x === 0 && y === 0 ? (z > 0 ? 'up' : 'down') : '';
  const far = Math.round(Math.hypot(x, y, z));
  const go = where === '' ? `by ${by} mm` : `${far} mm ${where} (${by})`;
  return turn === '' ? `move ${name} ${go}` : `${turn} and move it ${go}`;
}

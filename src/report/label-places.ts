import { textWidth, type Point } from './svg.js';

/** An upright box in pixels. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const overlap = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));

/** A text to be put in a column beside the drawing, with a line to the thing it names. */
export interface Label {
  readonly text: string;
  readonly anchor: Point;
}

export interface PlacedLabel<L extends Label> {
  readonly label: L;
  /** Where its line begins. */
  readonly at: Point;
  readonly side: 'left' | 'right';
}

/** Which side of segment a-b a point is on. */
const turn = (a: Point, b: Point, c: Point): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

const cross = (a: Point, b: Point, c: Point, d: Point): boolean =>
  turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;

/** Heights as near to those wished as a least distance allows, in the order given. */
export function spread(wished: readonly number[], least: number, low: number, high: number): number[] {
  const heights: number[] = [];
  wished.forEach((height, i) => heights.push(Math.max(height, low, (heights[i - 1] ?? -Infinity) + least)));
  for (let i = heights.length - 1; i >= 0; i -= 1)
    heights[i] = Math.min(heights[i]!, (heights[i + 1] ?? high + least) - least);
  return heights;
}

/** One column: labels by the height of what they name; two whose lines would cross change places. */
function column<L extends Label>(
  labels: readonly L[],
  side: 'left' | 'right',
  x: number,
  area: Box,
): PlacedLabel<L>[] {
  const sorted = [...labels].sort((p, q) => p.anchor[1] - q.anchor[1]);
  const heights = spread(
    sorted.map(({ anchor }) => anchor[1]),
    22,
    area.y,
    area.y + area.height,
  );
  const slots = heights.map((y): Point => [x, y]);
  for (let pass = 0; pass < sorted.length; pass += 1)
    for (let i = 0; i + 1 < sorted.length; i += 1)
      for (let k = i + 1; k < sorted.length; k += 1)
        if (cross(slots[i]!, sorted[i]!.anchor, slots[k]!, sorted[k]!.anchor))
          [sorted[i], sorted[k]] = [sorted[k]!, sorted[i]!];
  return sorted.map((label, i) => ({ label, at: slots[i]!, side }));
}

/** Labels in two columns left and right of `area`, each beside the half in which its thing lies. */
export function besideArea<L extends Label>(labels: readonly L[], area: Box): readonly PlacedLabel<L>[] {
  const byPlace = [...labels].sort((p, q) => p.anchor[0] - q.anchor[0]);
  const half = Math.ceil(byPlace.length / 2);
  return [
    ...column(byPlace.slice(0, half), 'left', area.x, area),
    ...column(byPlace.slice(half), 'right', area.x + area.width, area),
  ];
}

const DIRECTIONS = Array.from({ length: 12 }, (_, i) => (i * Math.PI) / 6);
const DISTANCES = [12, 20, 30, 44];

/** The middle of a small text near a point, where it overlaps what is already there least; the box is then taken. */
export function freePlace(text: string, size: number, near: Point, taken: Box[]): Point {
  const [width, height] = [textWidth(text, size) + 4, size + 2];
  let best: { box: Box; cost: number } | undefined;
  for (const distance of DISTANCES)
    for (const angle of DIRECTIONS) {
      const x = near[0] + Math.cos(angle) * (distance + width / 2 - 6);
      const y = near[1] + Math.sin(angle) * distance;
      const box = { x: x - width / 2, y: y - height / 2, width, height };
      const cost = taken.reduce((sum, other) => sum + overlap(box, other), 0) + distance / 100;
      if (!best || cost < best.cost - 1e-9) best = { box, cost };
    }
  const { box } = best!;
  taken.push(box);
  return [box.x + width / 2, box.y + height / 2];
}

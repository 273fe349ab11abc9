/** A point of a section or of a plate seen from above, mm. */
export type Point2 = readonly [number, number];

/** Corners nearer than this, mm, are one corner; loops nearer than this touch. */
const SAME = 1e-3;
/** Sine of the angle below which three corners lie on one line. */
const STRAIGHT = 1e-9;

const minus = (a: Point2, b: Point2): Point2 => [a[0] - b[0], a[1] - b[1]];
const cross2 = (a: Point2, b: Point2): number => a[0] * b[1] - a[1] * b[0];
const size2 = (a: Point2): number => Math.hypot(a[0], a[1]);

/** Twice the area of the triangle a, b, c: positive when it turns counter-clockwise. */
export const turnOf = (a: Point2, b: Point2, c: Point2): number => cross2(minus(b, a), minus(c, a));

/** Sine of the turn at b on the way from a to c: 0 when the three lie on one line. */
export function turnSine(a: Point2, b: Point2, c: Point2): number {
  const [before, after] = [minus(b, a), minus(c, b)];
  const size = size2(before) * size2(after);
  return size === 0 ? 0 : cross2(before, after) / size;
}

/** Area of a simple polygon, positive when its corners turn counter-clockwise, mm2. */
export function signedArea(corners: readonly Point2[]): number {
  let sum = 0;
  for (let i = 1; i + 1 < corners.length; i += 1) sum += turnOf(corners[0]!, corners[i]!, corners[i + 1]!);
  return sum / 2;
}

/** Distance of a point from the segment a-b, mm. */
export function segmentDistance(point: Point2, a: Point2, b: Point2): number {
  const way = minus(b, a);
  const squared = way[0] * way[0] + way[1] * way[1];
  const off = minus(point, a);
  const share = squared === 0 ? 0 : Math.min(1, Math.max(0, (off[0] * way[0] + off[1] * way[1]) / squared));
  return size2(minus(off, [way[0] * share, way[1] * share]));
}

/** Whether two segments cross each other at a point inside both. */
export function segmentsCross(a: Point2, b: Point2, c: Point2, d: Point2): boolean {
  const [aSide, bSide] = [turnOf(c, d, a), turnOf(c, d, b)];
  const [cSide, dSide] = [turnOf(a, b, c), turnOf(a, b, d)];
  return aSide * bSide < 0 && cSide * dSide < 0;
}

/** Whether two segments cross or come nearer to each other than a micrometre. */
const segmentsMeet = (a: Point2, b: Point2, c: Point2, d: Point2): boolean =>
  segmentsCross(a, b, c, d) ||
  segmentDistance(a, c, d) < SAME ||
  segmentDistance(b, c, d) < SAME ||
  segmentDistance(c, a, b) < SAME ||
  segmentDistance(d, a, b) < SAME;

/** Whether a point lies inside a simple polygon (a ray to +x crosses its sides an odd number of times). */
export function encloses(corners: readonly Point2[], [x, y]: Point2): boolean {
  let inside = false;
  corners.forEach((a, i) => {
    const b = corners[(i + 1) % corners.length]!;
    if (a[1] > y !== b[1] > y && x < a[0] + ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1])) inside = !inside;
  });
  return inside;
}

const sidesOf = (corners: readonly Point2[]): (readonly [Point2, Point2])[] =>
  corners.map((corner, i) => [corner, corners[(i + 1) % corners.length]!]);

const told = ([x, y]: Point2): string => `[${x}, ${y}]`;

/**
 * What keeps three or more corners from being a simple polygon, as what they must do; undefined when they are one. Of
 * fewer corners nothing is said.
 */
export function outlineFault(corners: readonly Point2[]): string | undefined {
  const n = corners.length;
  if (n < 3) return undefined;
  const at = (i: number): Point2 => corners[i % n]!;
  for (let i = 0; i < n; i += 1)
    if (size2(minus(at(i), at(i + 1))) < SAME)
      return `must not repeat corner ${i + 1}, ${told(at(i))}; the last corner joins the first by itself`;
  for (let i = 0; i < n; i += 1)
    if (Math.abs(turnSine(at(i), at(i + 1), at(i + 2))) < STRAIGHT)
      return `must turn at corner ${((i + 1) % n) + 1}, ${told(at(i + 1))}; leave out corners within a straight side`;
  const sides = sidesOf(corners);
  for (let i = 0; i < n; i += 1)
    for (let j = i + 2; j < n; j += 1) {
      if (i === 0 && j === n - 1) continue;
      if (segmentsMeet(...sides[i]!, ...sides[j]!))
        return `must not cross or touch itself: sides ${i + 1} and ${j + 1} do`;
    }
  return undefined;
}

/** Whether two loops cross or touch. */
export const loopsMeet = (a: readonly Point2[], b: readonly Point2[]): boolean =>
  sidesOf(a).some((side) => sidesOf(b).some((other) => segmentsMeet(...side, ...other)));

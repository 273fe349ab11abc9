import type { Point2 } from './outline.js';
import { encloses, segmentDistance, segmentsCross, signedArea, turnOf, turnSine } from './outline.js';

/** Sines of turns smaller than this count as straight on. */
const STRAIGHT = 1e-12;

/** Corner numbers into one list of points; a bridge to a hole passes its corners twice. */
type Walk = readonly number[];

const same = (a: Point2, b: Point2): boolean => a[0] === b[0] && a[1] === b[1];

/** Whether a point lies in the closed triangle a, b, c, which turns counter-clockwise. */
const inTriangle = (a: Point2, b: Point2, c: Point2, p: Point2): boolean =>
  turnOf(a, b, p) >= 0 && turnOf(b, c, p) >= 0 && turnOf(c, a, p) >= 0;

/** Whether the way from a corner of a walk to a target starts into the matter on its left. */
function startsInside(points: readonly Point2[], walk: Walk, at: number, target: Point2): boolean {
  const n = walk.length;
  const [before, here, after] = [walk[(at + n - 1) % n]!, walk[at]!, walk[(at + 1) % n]!].map(
    (i) => points[i]!,
  ) as [Point2, Point2, Point2];
  const left = turnOf(here, after, target) > 0;
  const right = turnOf(before, here, target) > 0;
  return turnOf(before, here, after) > 0 ? left && right : left || right;
}

/** Whether a bridge between two corners is clear of the sides of all loops: none is crossed or touched on the way. */
function isFree(points: readonly Point2[], a: Point2, b: Point2, loops: readonly Walk[]): boolean {
  return loops.every((loop) =>
    loop.every((from, i) => {
      const [p, q] = [points[from]!, points[loop[(i + 1) % loop.length]!]!];
      if (segmentsCross(a, b, p, q)) return false;
      return same(p, a) || same(p, b) || segmentDistance(p, a, b) > 0;
    }),
  );
}

/** The outline and its holes as one walk: each hole is joined by its shortest free bridge, passed there and back. */
function joined(points: readonly Point2[], outline: Walk, holes: readonly Walk[]): Walk {
  let walk = outline;
  const open = [...holes];
  while (open.length > 0) {
    const bridges = open.flatMap((hole, h) =>
      walk.flatMap((from, i) =>
        hole.map((to, j) => {
          const [p, q] = [points[from]!, points[to]!];
          return { h, i, j, size: Math.hypot(p[0] - q[0], p[1] - q[1]) };
        }),
      ),
    );
    bridges.sort((p, q) => p.size - q.size || p.h - q.h || p.i - q.i || p.j - q.j);
    const bridge = bridges.find(({ h, i, j }) => {
      const [a, b] = [points[walk[i]!]!, points[open[h]![j]!]!];
      return (
        startsInside(points, walk, i, b) &&
        startsInside(points, open[h]!, j, a) &&
        isFree(points, a, b, [walk, ...open])
      );
    });
    if (bridge === undefined) throw new RangeError('the holes must lie inside the outline and apart');
    const [hole] = open.splice(bridge.h, 1);
    const round = [...hole!.slice(bridge.j), ...hole!.slice(0, bridge.j), hole![bridge.j]!];
    walk = [...walk.slice(0, bridge.i + 1), ...round, ...walk.slice(bridge.i)];
  }
  return walk;
}

function isEar(points: readonly Point2[], walk: Walk, at: number): boolean {
  const n = walk.length;
  const [before, after] = [(at + n - 1) % n, (at + 1) % n];
  const [a, b, c] = [before, at, after].map((i) => points[walk[i]!]!) as [Point2, Point2, Point2];
  if (turnSine(a, b, c) <= STRAIGHT) return false;
  if (n === 3) return true;
  // Of a corner that is passed twice, each pass sees another side: the cut must leave into the matter at both ends.
  if (!startsInside(points, walk, before, c) || !startsInside(points, walk, after, a)) return false;
  return walk.every((number) => {
    const p = points[number]!;
    return same(p, a) || same(p, b) || same(p, c) || !inTriangle(a, b, c, p);
  });
}

/** Triangles of a walk by cutting off ears (Meisters 1975: every simple polygon has two). */
function triangles(points: readonly Point2[], whole: Walk): Walk[] {
  const found: Walk[] = [];
  let walk = whole;
  while (walk.length >= 3) {
    const n = walk.length;
    let at = walk.findIndex((_, i) => isEar(points, walk, i));
    if (at >= 0) found.push([walk[(at + n - 1) % n]!, walk[at]!, walk[(at + 1) % n]!]);
    else {
      const corner = (i: number): Point2 => points[walk[(i + n) % n]!]!;
      at = walk.findIndex((_, i) => Math.abs(turnSine(corner(i - 1), corner(i), corner(i + 1))) <= STRAIGHT);
      if (at < 0) throw new RangeError('the outline must be a simple polygon');
    }
    walk = walk.filter((_, i) => i !== at);
  }
  return found;
}

/** Two polygons with a common side as one, if that is convex. */
function unitedOver(points: readonly Point2[], a: Walk, b: Walk): Walk | undefined {
  for (let i = 0; i < a.length; i += 1) {
    const [from, to] = [a[i]!, a[(i + 1) % a.length]!];
    const j = b.findIndex((number, k) => number === to && b[(k + 1) % b.length] === from);
    if (j < 0) continue;
    const rest = Array.from({ length: b.length - 2 }, (_, k) => b[(j + 2 + k) % b.length]!);
    const whole = [...a.slice(0, i + 1), ...rest, ...a.slice(i + 1)];
    const n = whole.length;
    const turns = whole.map((_, k) =>
      turnSine(points[whole[(k + n - 1) % n]!]!, points[whole[k]!]!, points[whole[(k + 1) % n]!]!),
    );
    if (turns.every((turn) => turn >= -STRAIGHT)) return whole;
  }
  return undefined;
}

/** Unites neighbours as long as the outcome is convex (Hertel and Mehlhorn 1983: at most four times the fewest). */
function united(points: readonly Point2[], parts: readonly Walk[]): readonly Walk[] {
  const left = [...parts];
  for (let i = 0; i < left.length; i += 1)
    for (let j = i + 1; j < left.length; j += 1) {
      const whole = unitedOver(points, left[i]!, left[j]!);
      if (whole === undefined) continue;
      left[i] = whole;
      left.splice(j, 1);
      j = i;
    }
  return left;
}

const turned = (corners: readonly Point2[], sign: 1 | -1): readonly Point2[] =>
  signedArea(corners) * sign > 0 ? corners : [...corners].reverse();

/**
 * A simple polygon less its holes as convex polygons, counter-clockwise, that touch but do not overlap: their corners
 * are corners of the loops and nothing else. Loops may turn either way. Throws a RangeError when the loops cross, which
 * a checked shape cannot do.
 */
export function convexParts(
  outline: readonly Point2[],
  holes: readonly (readonly Point2[])[] = [],
): readonly (readonly Point2[])[] {
  if (holes.some((hole) => !hole.every((corner) => encloses(outline, corner))))
    throw new RangeError('the holes must lie inside the outline and apart');
  const loops = [turned(outline, 1), ...holes.map((hole) => turned(hole, -1))];
  const points = loops.flat();
  let next = 0;
  const [outer, ...inner] = loops.map((loop) => loop.map(() => next++));
  const walk = joined(points, outer!, inner);
  return united(points, triangles(points, walk)).map((part) => {
    const n = part.length;
    const at = (i: number): Point2 => points[part[(i + n) % n]!]!;
    return part
      .filter((_, i) => turnSine(at(i - 1), at(i), at(i + 1)) > STRAIGHT)
      .map((number) => points[number]!);
  });
}

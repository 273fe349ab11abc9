import type { Point2 } from '../../src/geometry/outline.js';

/** A piece of a closed line: from where the piece before it ended, straight or on a circle about `about`. */
export interface Stroke {
  readonly to: Point2;
  readonly about?: Point2;
  /** Clockwise about it. */
  readonly clockwise?: boolean;
}

/** Straight lines round a polygon. */
export const polygon = (corners: readonly Point2[]): readonly Stroke[] => corners.map((to) => ({ to }));

/** A circle as two half circles; clockwise as a hole. */
export function circle([x, y]: Point2, diameter: number, clockwise = false): readonly Stroke[] {
  const about: Point2 = [x, y];
  return [x - diameter / 2, x + diameter / 2].map((u) => ({ to: [u, y], about, clockwise }));
}

/** A rectangle about the origin, with corners of a radius; clockwise as a hole. */
export function rectangle(width: number, height: number, radius = 0, clockwise = false): readonly Stroke[] {
  const [x, y] = [width / 2, height / 2];
  const corners: readonly Point2[] = [
    [x, -y],
    [x, y],
    [-x, y],
    [-x, -y],
  ];
  return rounded(clockwise ? corners.toReversed() : corners, () => radius);
}

/** A polygon of right angles whose corners are rounded by a radius each; 0 leaves a corner sharp. */
export function rounded(corners: readonly Point2[], radius: (corner: number) => number): readonly Stroke[] {
  return corners.flatMap((corner, i): readonly Stroke[] => {
    const r = radius(i);
    if (r === 0) return [{ to: corner }];
    const [before, after] = [corners.at(i - 1)!, corners[(i + 1) % corners.length]!];
    const [p, q] = [before, after].map((other): Point2 => {
      const size = Math.hypot(other[0] - corner[0], other[1] - corner[1]);
      return [((other[0] - corner[0]) * r) / size, ((other[1] - corner[1]) * r) / size];
    }) as [Point2, Point2];
    const about: Point2 = [corner[0] + p[0] + q[0], corner[1] + p[1] + q[1]];
    const clockwise = p[0] * q[1] - p[1] * q[0] > 0;
    return [
      { to: [corner[0] + p[0], corner[1] + p[1]] },
      { to: [corner[0] + q[0], corner[1] + q[1]], about, clockwise },
    ];
  });
}

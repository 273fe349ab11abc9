export type ScreenPoint = readonly [x: number, y: number];

/** A line on the screen, pixels, and how far its ends are behind the screen, mm. */
export interface ScreenLine<T> {
  readonly what: T;
  readonly from: ScreenPoint;
  readonly to: ScreenPoint;
  readonly depths: readonly [number, number];
}

/** Distance of a point from a line, and where along the line it is nearest, 0 to 1. */
export function toLine(point: ScreenPoint, from: ScreenPoint, to: ScreenPoint): readonly [number, number] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const square = dx * dx + dy * dy;
  const along = square === 0 ? 0 : ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / square;
  const share = Math.min(1, Math.max(0, along));
  return [Math.hypot(point[0] - from[0] - dx * share, point[1] - from[1] - dy * share), share];
}

/** The nearest line within reach that does not lie deeper than `cover`, mm; undefined where there is none. */
export function nearestLine<T>(
  point: ScreenPoint,
  lines: readonly ScreenLine<T>[],
  reach: number,
  cover: number,
): T | undefined {
  let best: { readonly what: T; readonly far: number } | undefined;
  for (const { what, from, to, depths } of lines) {
    const [far, share] = toLine(point, from, to);
    const depth = depths[0] + (depths[1] - depths[0]) * share;
    if (far <= reach && depth <= cover && (!best || far < best.far)) best = { what, far };
  }
  return best?.what;
}

import { add, along, cross, dot, scale, type Vec3 } from '../../../geometry/vector.js';

/** From where and how large the cell is seen, without perspective. */
export interface View {
  /** Direction to the viewer, radians: about z from +x, and above the level. */
  readonly azimuth: number;
  readonly elevation: number;
  /** What is in the middle of the picture, mm. */
  readonly target: Vec3;
  /** How much fits into the height of the picture, mm. */
  readonly height: number;
}

export interface ViewAxes {
  readonly right: Vec3;
  readonly up: Vec3;
  /** To the viewer. */
  readonly toward: Vec3;
}

const QUARTER = Math.PI / 2;

/** Named directions to look from. The front is where y is least, as on a drawing with x to the right. */
export const STANDARD_VIEWS = {
  iso: [-QUARTER / 2 - 0.25, 0.6],
  front: [-QUARTER, 0],
  side: [0, 0],
  top: [-QUARTER, QUARTER],
  back: [QUARTER, 0],
} as const satisfies Record<string, readonly [azimuth: number, elevation: number]>;
export type StandardView = keyof typeof STANDARD_VIEWS;

export function axesOf({ azimuth, elevation }: Pick<View, 'azimuth' | 'elevation'>): ViewAxes {
  const toward: Vec3 = [
    Math.cos(elevation) * Math.cos(azimuth),
    Math.cos(elevation) * Math.sin(azimuth),
    Math.sin(elevation),
  ];
  const right: Vec3 = [-Math.sin(azimuth), Math.cos(azimuth), 0];
  return { right, up: cross(toward, right), toward };
}

/** Turned about the target; never over the top. */
export const orbited = (view: View, azimuth: number, elevation: number): View => ({
  ...view,
  azimuth: view.azimuth + azimuth,
  elevation: Math.min(QUARTER, Math.max(-QUARTER, view.elevation + elevation)),
});

/** Smallest and largest height of the picture, mm. */
const HEIGHTS = [5, 100_000] as const;

/** Zoomed so that the point that is so far right of and above the middle, in heights, stays where it is. */
export function zoomed(view: View, factor: number, right = 0, above = 0): View {
  const height = Math.min(HEIGHTS[1], Math.max(HEIGHTS[0], view.height / factor));
  const gain = view.height - height;
  return panned({ ...view, height }, (right * gain) / height, (above * gain) / height);
}

/** Moved sideways and upwards by shares of the height of the picture. */
export function panned(view: View, right: number, above: number): View {
  const { right: r, up } = axesOf(view);
  return {
    ...view,
    target: along(along(view.target, r, right * view.height), up, above * view.height),
  };
}

/** The same direction, so that all points are in the picture with some room around; `aspect` is width by height. */
export function fitted(view: View, points: readonly Vec3[], aspect: number, room = 1.12): View {
  if (points.length === 0) return view;
  const { right, up, toward } = axesOf(view);
  const spanOf = (axis: Vec3): readonly [number, number] => {
    const along = points.map((point) => dot(point, axis));
    return [Math.min(...along), Math.max(...along)];
  };
  const [r, u, t] = [spanOf(right), spanOf(up), spanOf(toward)];
  const middle = ([low, high]: readonly [number, number]): number => (low + high) / 2;
  return {
    ...view,
    target: add(add(scale(right, middle(r)), scale(up, middle(u))), scale(toward, middle(t))),
    height: Math.max(HEIGHTS[0], room * Math.max(u[1] - u[0], (r[1] - r[0]) / aspect)),
  };
}

/** Between two views, the shorter way round; `share` from 0 to 1. */
export function between(from: View, to: View, share: number): View {
  const mix = (a: number, b: number): number => a + (b - a) * share;
  const whole = 2 * Math.PI;
  const turn = to.azimuth - from.azimuth;
  return {
    azimuth: from.azimuth + (turn - Math.round(turn / whole) * whole) * share,
    elevation: mix(from.elevation, to.elevation),
    target: [0, 1, 2].map((i) => mix(from.target[i]!, to.target[i]!)) as [number, number, number],
    height: Math.exp(mix(Math.log(from.height), Math.log(to.height))),
  };
}

import { cross, dot, type Vec3 } from '../geometry/vector.js';
import type { Point } from './svg.js';

/** One of four isometric views from above: lengths along x, y and z are all drawn at the same scale. */
export interface View {
  /** Unit, toward the viewer. */
  readonly toward: Vec3;
  /** The point on the picture, y down, in mm of the picture plane. */
  project(point: Vec3): Point;
}

/** How much a length along x, y or z is shortened in an isometric view. */
export const FORESHORTENED = Math.sqrt(2 / 3);

const SIN = 1 / Math.sqrt(3);

function viewFrom(azimuth: number): View {
  const [c, s] = [Math.cos(azimuth), Math.sin(azimuth)];
  const toward: Vec3 = [c * FORESHORTENED, s * FORESHORTENED, SIN];
  const right: Vec3 = [-s, c, 0];
  const up = cross(toward, right);
  return { toward, project: (point) => [dot(point, right), -dot(point, up)] };
}

/** The views, the usual one first: x toward the lower right, y toward the upper right. */
export const VIEWS: readonly View[] = [-45, -135, 45, 135].map((degrees) =>
  viewFrom((degrees * Math.PI) / 180),
);

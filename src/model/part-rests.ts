import { compareVectors, snap } from '../base/order.js';
import { convexHull, type HullFace } from '../geometry/hull.js';
import { fromAxes, fromRollPitchYaw, transpose, type Pose, type Rotation } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import { cross, dot, negate, unit, type Vec3 } from '../geometry/vector.js';
import { faceAxes, shapeSolid } from './part-geometry.js';
import type { FaceName } from './scalars.js';
import type { Shape } from './shape.js';

/** A plane a part could lie on: a face of its convex hull. In the shape's frame, mm. */
export interface RestPlane {
  /** Of the part's own face in that plane; `toes-1`, `toes-2`, ... where it lies on none or on more than one. */
  readonly name: FaceName;
  /** Unit, out of the part, down when it lies. */
  readonly normal: Vec3;
  readonly offset: number;
  /** Convex, counter-clockwise seen from outside: what it could tip over. */
  readonly corners: readonly Vec3[];
  /** Whether the face is a piece of a round one, on which the part rolls. */
  readonly rolls: boolean;
}

/** Normals whose product is above this are parallel. */
const PARALLEL = 1 - 1e-9;
const GRAIN = 1e-4;

function plainNormal(normal: Vec3): Vec3 {
  const [x, y, z] = normal.map((cell) => snap(cell, 1e-12)) as [number, number, number];
  return unit([x, y, z]);
}

/** The planes in a fixed order: those of the part's faces in their order, then the others by their normals. */
function planesOf(shape: Shape): readonly RestPlane[] {
  const { pieces, faces } = shapeSolid(shape);
  const hull = convexHull(pieces.flatMap(({ vertices }) => vertices));
  const own = hull.map((plane) =>
    faces.filter(
      ({ normal, offset }) => dot(normal, plane.normal) > PARALLEL && Math.abs(offset - plane.offset) < GRAIN,
    ),
  );
  const named = faces.flatMap((face): RestPlane[] => {
    const at = own.findIndex((mine) => mine.length === 1 && mine[0] === face);
    if (at < 0) return [];
    const { id: name, normal, offset, curved } = face;
    return [{ name, normal, offset, corners: hull[at]!.corners, rolls: curved !== undefined }];
  });
  const grainy = ({ normal }: HullFace): readonly number[] => normal.map((x) => snap(x, 1e-6));
  const others = hull
    .filter((_, i) => own[i]!.length !== 1)
    .sort((a, b) => compareVectors(grainy(a), grainy(b)))
    .map(({ normal, offset, corners }, i): RestPlane => {
      return { name: `toes-${i + 1}`, normal: plainNormal(normal), offset, corners, rolls: false };
    });
  return [...named, ...others];
}

interface Rests {
  readonly planes: readonly RestPlane[];
  readonly poses: ReadonlyMap<FaceName, Pose>;
}

/** Rests that were worked out before, so that each shape's are worked out once. */
const RESTS = new WeakMap<Shape, Rests>();

const AXES: readonly (readonly [Vec3, Rotation])[] = [
  [[0, 0, -1], fromRollPitchYaw(0, 0, 0)],
  [[0, 0, 1], fromRollPitchYaw(180, 0, 0)],
  [[1, 0, 0], fromRollPitchYaw(0, 90, 0)],
  [[-1, 0, 0], fromRollPitchYaw(0, -90, 0)],
  [[0, 1, 0], fromRollPitchYaw(-90, 0, 0)],
  [[0, -1, 0], fromRollPitchYaw(90, 0, 0)],
];

/**
 * The turn that brings a normal straight down. For a normal along an axis one quarter or half turn about x or y; for
 * any other the first axis of the face (`faceAxes`) comes to lie along +x.
 */
function downTurn(normal: Vec3): Rotation {
  const axis = AXES.find(([along]) => dot(along, normal) > PARALLEL);
  if (axis) return axis[1];
  const [u] = faceAxes(normal);
  return transpose(fromAxes(u, cross(u, normal), negate(normal)));
}

/** Lying on a plane at z = 0, the middle of what is seen from above over the origin. */
function lyingOn(shape: Shape, { normal }: RestPlane): Pose {
  const turn = downTurn(normal);
  const { low, high } = placeSolid(shapeSolid(shape), { at: [0, 0, 0], turn }).bounds;
  return { at: [-(low[0] + high[0]) / 2, -(low[1] + high[1]) / 2, -low[2]], turn };
}

function restsOfShape(shape: Shape): Rests {
  let rests = RESTS.get(shape);
  if (!rests) {
    const planes = planesOf(shape);
    rests = { planes, poses: new Map(planes.map((plane) => [plane.name, lyingOn(shape, plane)])) };
    RESTS.set(shape, rests);
  }
  return rests;
}

/** Every plane a part of this shape could lie on, stable or not. */
export const restPlanes = (shape: Shape): readonly RestPlane[] => restsOfShape(shape).planes;

/**
 * How a part lies on the rest of that name on a level top at z = 0: turned as `downTurn` says, the middle of its
 * bounding box over the origin. Undefined when the shape has no such rest.
 */
export const restPose = (shape: Shape, rest: FaceName): Pose | undefined =>
  restsOfShape(shape).poses.get(rest);

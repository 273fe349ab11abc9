import type { Bounds } from './bounds.js';
import { boundsOf, boundsOfCoordinates } from './bounds.js';
import type { Pose } from './pose.js';
import { rotate } from './pose.js';
import type { Vec3 } from './vector.js';
import { add, cross, dot, length, negate, scale, subtract, unit, withPlainZeros } from './vector.js';

/** The half-space `normal . x <= offset`; the unit normal points away from the matter. Offset in mm. */
export interface Plane {
  readonly normal: Vec3;
  readonly offset: number;
}

/** A convex polyhedron with everything a separating-axis test asks for, worked out once. Millimetres. */
export interface ConvexPiece {
  readonly vertices: readonly Vec3[];
  /** Distinct unit face normals, up to sign. */
  readonly normals: readonly Vec3[];
  /** Distinct unit edge directions, up to sign. */
  readonly edges: readonly Vec3[];
  /** One outward plane a face. */
  readonly planes: readonly Plane[];
  /** Vertex numbers of each face, counter-clockwise seen from outside, in the order of `planes`. */
  readonly faces: readonly (readonly number[])[];
  /** The vertices again as x, y, z, x, y, z, ... for the inner loops. */
  readonly coordinates: Float64Array;
  readonly bounds: Bounds;
}

/** Two unit directions nearer to parallel than this (sine of the angle) count as one. */
const PARALLEL = 1e-9;

function distinctDirections(directions: readonly Vec3[]): Vec3[] {
  const kept: Vec3[] = [];
  for (const direction of directions)
    if (!kept.some((other) => length(cross(other, direction)) < PARALLEL)) kept.push(direction);
  return kept;
}

/** Normal of a planar loop by Newell's method: the sum of the edge cross products, not yet a unit vector. */
function loopNormal(loop: readonly Vec3[]): Vec3 {
  let sum: Vec3 = [0, 0, 0];
  const origin = loop[0]!;
  for (let i = 1; i + 1 < loop.length; i += 1)
    sum = add(sum, cross(subtract(loop[i]!, origin), subtract(loop[i + 1]!, origin)));
  return sum;
}

/** Flat copy of points for inner loops: x, y, z of each in turn. */
export function flatten(points: readonly Vec3[]): Float64Array {
  const flat = new Float64Array(points.length * 3);
  points.forEach((point, i) => {
    flat[3 * i] = point[0];
    flat[3 * i + 1] = point[1];
    flat[3 * i + 2] = point[2];
  });
  return flat;
}

/**
 * A convex piece from its vertices and the vertex numbers around each face (either sense; it is turned to be
 * counter-clockwise from outside). Throws a RangeError when the vertices are not in convex position about the faces,
 * which a checked shape cannot be.
 */
export function convexPiece(vertices: readonly Vec3[], loops: readonly (readonly number[])[]): ConvexPiece {
  const middle = scale(vertices.reduce(add), 1 / vertices.length);
  const faces: (readonly number[])[] = [];
  const planes: Plane[] = [];
  const edges: Vec3[] = [];
  for (const loop of loops) {
    const corners = loop.map((i) => vertices[i]!);
    const normal = unit(loopNormal(corners));
    const outward = dot(normal, subtract(corners[0]!, middle)) >= 0;
    faces.push(outward ? loop : [...loop].reverse());
    const outwardNormal = withPlainZeros(outward ? normal : negate(normal));
    planes.push({ normal: outwardNormal, offset: dot(outwardNormal, corners[0]!) });
    corners.forEach((corner, i) => edges.push(unit(subtract(corners[(i + 1) % corners.length]!, corner))));
  }
  const bounds = boundsOf(vertices);
  const slack = 1e-9 * (1 + length(subtract(bounds.high, bounds.low)) + length(middle));
  for (const { normal, offset } of planes)
    if (vertices.some((vertex) => dot(normal, vertex) > offset + slack))
      throw new RangeError('a convex piece needs vertices in convex position');
  return {
    vertices,
    normals: distinctDirections(planes.map((plane) => plane.normal)),
    edges: distinctDirections(edges),
    planes,
    faces,
    coordinates: flatten(vertices),
    bounds,
  };
}

/** A box with faces parallel to the axes; half extents and centre in mm. */
export function boxPiece(halfExtents: Vec3, centre: Vec3 = [0, 0, 0]): ConvexPiece {
  const [x, y, z] = halfExtents;
  const rectangle = [
    [centre[0] - x, centre[1] - y],
    [centre[0] + x, centre[1] - y],
    [centre[0] + x, centre[1] + y],
    [centre[0] - x, centre[1] + y],
  ] as const;
  return prismPiece(rectangle, centre[2] - z, centre[2] + z);
}

/** A convex polygon in the xy plane, either sense, drawn out from z0 to z1 (mm, z0 < z1). */
export function prismPiece(
  polygon: readonly (readonly [number, number])[],
  z0: number,
  z1: number,
): ConvexPiece {
  const n = polygon.length;
  const bottom = polygon.map(([x, y]): Vec3 => [x, y, z0]);
  const top = polygon.map(([x, y]): Vec3 => [x, y, z1]);
  const numbers = polygon.map((_, i) => i);
  const sides = numbers.map((i) => [i, (i + 1) % n, n + ((i + 1) % n), n + i]);
  return convexPiece([...bottom, ...top], [numbers, numbers.map((i) => n + i), ...sides]);
}

function ring(radius: number, z: number, sides: number): Vec3[] {
  if (radius === 0) return [[0, 0, z]];
  const outer = radius / Math.cos(Math.PI / sides);
  return Array.from({ length: sides }, (_, i): Vec3 => {
    const angle = ((2 * i + 1) * Math.PI) / sides;
    return [outer * Math.cos(angle), outer * Math.sin(angle), z];
  });
}

/**
 * A frustum along +z with `sides` flat sides, from radius r0 at z0 to r1 at z1 (mm). The sides touch the round
 * frustum from outside, so the piece contains it: a clearance found with it holds for the round one. One radius may
 * be 0 (a cone); equal radii make a round bar.
 */
export function frustumPiece(r0: number, z0: number, r1: number, z1: number, sides: number): ConvexPiece {
  const bottom = ring(r0, z0, sides);
  const top = ring(r1, z1, sides);
  const bottomAt = (i: number): number => (bottom.length === 1 ? 0 : i % sides);
  const topAt = (i: number): number => bottom.length + (top.length === 1 ? 0 : i % sides);
  const numbers = Array.from({ length: sides }, (_, i) => i);
  const loops = numbers.map((i) => [...new Set([bottomAt(i), bottomAt(i + 1), topAt(i + 1), topAt(i)])]);
  if (bottom.length > 1) loops.push(numbers.map(bottomAt));
  if (top.length > 1) loops.push(numbers.map(topAt));
  return convexPiece([...bottom, ...top], loops);
}

/** A cone along +z with its base of the given radius at z0 and its tip at z1 (mm); contains the round cone. */
export const conePiece = (radius: number, z0: number, z1: number, sides: number): ConvexPiece =>
  frustumPiece(radius, z0, 0, z1, sides);

/** A plane given in the pose's frame, in its parent frame. */
export function placePlane(pose: Pose, { normal, offset }: Plane): Plane {
  const turned = withPlainZeros(rotate(pose.turn, normal));
  return { normal: turned, offset: offset + dot(turned, pose.at) };
}

/** A piece in a frame: its coordinates at once, the rest when it is asked for, as boxes answer most questions of placed pieces. */
class PlacedPiece implements ConvexPiece {
  readonly coordinates: Float64Array;
  readonly bounds: Bounds;
  private ownVertices: readonly Vec3[] | undefined;
  private ownNormals: readonly Vec3[] | undefined;
  private ownEdges: readonly Vec3[] | undefined;
  private ownPlanes: readonly Plane[] | undefined;

  constructor(
    private readonly piece: ConvexPiece,
    private readonly pose: Pose,
  ) {
    this.coordinates = placeCoordinates(pose, piece.coordinates);
    this.bounds = boundsOfCoordinates(this.coordinates);
  }

  get faces(): ConvexPiece['faces'] {
    return this.piece.faces;
  }

  get vertices(): readonly Vec3[] {
    return (this.ownVertices ??= unflatten(this.coordinates));
  }

  get normals(): readonly Vec3[] {
    return (this.ownNormals ??= this.piece.normals.map((normal) => rotate(this.pose.turn, normal)));
  }

  get edges(): readonly Vec3[] {
    return (this.ownEdges ??= this.piece.edges.map((edge) => rotate(this.pose.turn, edge)));
  }

  get planes(): readonly Plane[] {
    return (this.ownPlanes ??= this.piece.planes.map((plane) => placePlane(this.pose, plane)));
  }
}

/** Points by their flat coordinates in the pose's own frame, in its parent frame. */
function placeCoordinates({ at, turn }: Pose, own: Float64Array): Float64Array {
  const placed = new Float64Array(own.length);
  for (let i = 0; i < own.length; i += 3) {
    const x = own[i]!;
    const y = own[i + 1]!;
    const z = own[i + 2]!;
    placed[i] = at[0] + (turn[0] * x + turn[1] * y + turn[2] * z);
    placed[i + 1] = at[1] + (turn[3] * x + turn[4] * y + turn[5] * z);
    placed[i + 2] = at[2] + (turn[6] * x + turn[7] * y + turn[8] * z);
  }
  return placed;
}

const unflatten = (flat: Float64Array): readonly Vec3[] =>
  Array.from({ length: flat.length / 3 }, (_, i): Vec3 => [flat[3 * i]!, flat[3 * i + 1]!, flat[3 * i + 2]!]);

/** The piece, given in the pose's own frame, in its parent frame. */
export const placePiece = (piece: ConvexPiece, pose: Pose): ConvexPiece => new PlacedPiece(piece, pose);

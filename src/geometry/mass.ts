import type { ConvexPiece } from './convex.js';
import type { Rotation } from './pose.js';
import { multiply, transpose } from './pose.js';
import type { Vec3 } from './vector.js';
import { add, cross, dot, scale, subtract } from './vector.js';

/** A symmetric 3 x 3 matrix, row-major, of the same make as a rotation so that the two multiply. */
export type Inertia = Rotation;

/** Volume (mm3), centre (mm) and inertia about the centre per unit density (mm5) of a homogeneous body. */
export interface Mass {
  readonly volume: number;
  readonly centre: Vec3;
  /** Row-major integral of `|r|^2 identity - r r'` over the volume, r from the centre. */
  readonly inertia: Inertia;
}

/** The matrix `|r|^2 identity - r r'`, times a weight: what a point adds to an inertia. */
export function pointInertia([x, y, z]: Vec3, weight: number): Inertia {
  const [xy, xz, yz] = [-weight * x * y, -weight * x * z, -weight * y * z];
  return [
    weight * (y * y + z * z),
    xy,
    xz,
    xy,
    weight * (x * x + z * z),
    yz,
    xz,
    yz,
    weight * (x * x + y * y),
  ];
}

/** The inertia of two bodies together, about the same point. */
export const addInertia = (a: Inertia, b: Inertia): Inertia =>
  a.map((cell, i) => cell + b[i]!) as unknown as Inertia;

const NOTHING: Inertia = [0, 0, 0, 0, 0, 0, 0, 0, 0];

/** Mass of a box of the given full lengths about its centre, by the textbook formula m (b^2 + c^2) / 12. */
export function boxMass(sizes: Vec3, centre: Vec3 = [0, 0, 0]): Mass {
  const [x, y, z] = sizes;
  const volume = x * y * z;
  const about = (b: number, c: number): number => (volume * (b * b + c * c)) / 12;
  return { volume, centre, inertia: [about(y, z), 0, 0, 0, about(x, z), 0, 0, 0, about(x, y)] };
}

/** A body made up of others, by the parallel-axis theorem. A negative volume with a negative inertia is a cavity. */
export function combineMass(parts: readonly Mass[]): Mass {
  const volume = parts.reduce((sum, part) => sum + part.volume, 0);
  const moment = parts.reduce<Vec3>((sum, part) => add(sum, scale(part.centre, part.volume)), [0, 0, 0]);
  const centre = scale(moment, 1 / volume);
  const inertia = parts.reduce<Inertia>(
    (sum, part) =>
      addInertia(addInertia(sum, part.inertia), pointInertia(subtract(part.centre, centre), part.volume)),
    NOTHING,
  );
  return { volume, centre, inertia };
}

/** The same body as a cavity, to be combined with what it is cut from. */
export const cavity = (mass: Mass): Mass => ({
  volume: -mass.volume,
  centre: mass.centre,
  inertia: mass.inertia.map((cell) => (cell === 0 ? 0 : -cell)) as unknown as Inertia,
});

/** The inertia of a body after it is turned: R I R'. */
export const turnInertia = (turn: Rotation, inertia: Inertia): Inertia =>
  multiply(multiply(turn, inertia), transpose(turn));

/**
 * Mass of any convex piece as tetrahedra from one vertex. The second moments of a tetrahedron about its centre are
 * V / 20 times the sum over its corners of the outer products of the corners seen from the centre.
 */
export function pieceMass(piece: ConvexPiece): Mass {
  const apex = piece.vertices[0]!;
  const parts: Mass[] = [];
  for (const face of piece.faces) {
    if (face.includes(0)) continue;
    for (let i = 1; i + 1 < face.length; i += 1) {
      const corners = [apex, ...[face[0]!, face[i]!, face[i + 1]!].map((n) => piece.vertices[n]!)];
      const [a, b, c] = corners.slice(1).map((corner) => subtract(corner, apex));
      const volume = dot(a!, cross(b!, c!)) / 6;
      const centre = scale(corners.reduce(add), 1 / 4);
      const inertia = corners
        .map((corner) => pointInertia(subtract(corner, centre), volume / 20))
        .reduce(addInertia);
      parts.push({ volume, centre, inertia });
    }
  }
  return combineMass(parts);
}

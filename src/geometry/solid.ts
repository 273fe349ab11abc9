import type { Bounds } from './bounds.js';
import { boundsAround } from './bounds.js';
import type { ConvexPiece } from './convex.js';
import { placePiece, placePlane } from './convex.js';
import type { Inertia, Mass } from './mass.js';
import { turnInertia } from './mass.js';
import type { Pose } from './pose.js';
import { place } from './pose.js';
import type { Vec3 } from './vector.js';

/** A flat face of a solid: the polygons lie in the plane `normal . x = offset`. Millimetres. */
export interface PlanarFace {
  /** Unique in its solid; keeps its name when the solid is placed. */
  readonly id: string;
  /** Unit vector out of the matter. */
  readonly normal: Vec3;
  readonly offset: number;
  /** Convex, counter-clockwise seen from outside, disjoint but for shared edges. */
  readonly polygons: readonly (readonly Vec3[])[];
  /**
   * Only for a facet that stands for a piece of a round surface: the ends of its middle line, along which alone it
   * touches a plane. Nothing flat lies on such a face: no pad, and no part at rest.
   */
  readonly curved?: readonly [Vec3, Vec3];
}

/** A homogeneous body as a union of convex pieces that may touch but not overlap. */
export interface Solid {
  readonly pieces: readonly ConvexPiece[];
  /** The outside only: no interface between two pieces is a face. */
  readonly faces: readonly PlanarFace[];
  /** mm3. */
  readonly volume: number;
  /** Centre of mass, mm. */
  readonly centre: Vec3;
  /** About the centre, per unit density, row-major, mm5. */
  readonly inertia: Inertia;
  readonly bounds: Bounds;
}

/** A solid from its pieces, outer faces and mass; there must be at least one piece. */
export const makeSolid = (
  pieces: readonly ConvexPiece[],
  faces: readonly PlanarFace[],
  mass: Mass,
): Solid => ({
  pieces,
  faces,
  volume: mass.volume,
  centre: mass.centre,
  inertia: mass.inertia,
  bounds: boundsAround(pieces.map((piece) => piece.bounds)),
});

const placeFace = (pose: Pose, face: PlanarFace): PlanarFace => ({
  id: face.id,
  ...placePlane(pose, face),
  polygons: face.polygons.map((polygon) => polygon.map((point) => place(pose, point))),
  ...(face.curved && { curved: [place(pose, face.curved[0]), place(pose, face.curved[1])] as const }),
});

/** The solid, given in the pose's own frame, in its parent frame. Its faces are placed when they are asked for. */
export function placeSolid(solid: Solid, pose: Pose): Solid {
  const pieces = solid.pieces.map((piece) => placePiece(piece, pose));
  let faces: readonly PlanarFace[] | undefined;
  return {
    pieces,
    get faces() {
      return (faces ??= solid.faces.map((face) => placeFace(pose, face)));
    },
    volume: solid.volume,
    centre: place(pose, solid.centre),
    inertia: turnInertia(pose.turn, solid.inertia),
    bounds: boundsAround(pieces.map(({ bounds }) => bounds)),
  };
}

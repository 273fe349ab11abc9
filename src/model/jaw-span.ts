import { polygonContains } from '../geometry/polygon.js';
import { axisX, place, type Pose } from '../geometry/pose.js';
import type { PlanarFace, Solid } from '../geometry/solid.js';
import { dot, negate, subtract, type Vec3 } from '../geometry/vector.js';
import type { JawGripper } from './gripper.js';

/** Cosine above which a face counts as square to the way in which a jaw closes. */
const SQUARE = 1 - 1e-9;

/** Where the two finger pads of a jaw meet a part, along the x axis of the pad frame, mm. */
export interface JawSpan {
  readonly low: number;
  readonly high: number;
  /** The flat faces that look out there; undefined where there is none under the middle of a pad. */
  readonly lowFace: PlanarFace | undefined;
  readonly highFace: PlanarFace | undefined;
}

/** Height of the middles of the finger pads in the pad frame: each pad ends where its finger ends, mm. */
export const fingerPadDepth = ({ depth, padDiameter }: JawGripper): number => depth - padDiameter / 2;

/**
 * How wide a part is between the finger pads of a jaw whose pad frame is given in the part's frame: between the
 * outermost two faces that look along +x and -x of the pad frame and have the middle of a pad on them. Where there is
 * no such face, the extent of the whole part stands in, so that every grip has a place for its pads.
 */
export function jawSpan(solid: Solid, frame: Pose, jaw: JawGripper): JawSpan {
  const x = axisX(frame.turn);
  const middle = place(frame, [0, 0, fingerPadDepth(jaw)]);
  const [high, low] = [outermost(solid, x, middle), outermost(solid, negate(x), middle)];
  return { low: -low.reach, high: high.reach, lowFace: low.face, highFace: high.face };
}

function outermost(
  solid: Solid,
  way: Vec3,
  middle: Vec3,
): { readonly reach: number; readonly face: PlanarFace | undefined } {
  let found: { reach: number; face: PlanarFace } | undefined;
  for (const face of solid.faces) {
    if (dot(face.normal, way) < SQUARE) continue;
    const reach = face.offset - dot(face.normal, middle);
    if (found !== undefined && reach <= found.reach) continue;
    if (face.polygons.some((polygon) => polygonContains(polygon, face.normal, middle, 0)))
      found = { reach, face };
  }
  if (found !== undefined) return found;
  const corners = solid.pieces.flatMap(({ vertices }) => vertices);
  return {
    reach: Math.max(...corners.map((corner) => dot(subtract(corner, middle), way))),
    face: undefined,
  };
}

import { snap } from '../base/order.js';
import { polygonEdges } from '../geometry/polygon.js';
import { rotate } from '../geometry/pose.js';
import { dot, subtract, type Vec3 } from '../geometry/vector.js';
import { shapeSolid } from '../model/part-geometry.js';
import { restPlanes, restPose, type RestPlane } from '../model/part-rests.js';
import type { FaceName } from '../model/scalars.js';
import type { Settings } from '../model/settings.js';
import type { Shape } from '../model/shape.js';
import type { Refusal } from '../model/verdict.js';

/** A way for a part to lie on a flat station: the face of its convex hull that it lies on. */
export interface Rest {
  readonly face: FaceName;
  /** Height of the centre of mass above the station, mm. */
  readonly height: number;
  /** Distance of the centre of mass, seen from above, from the nearest edge it could tip over, mm. */
  readonly margin: number;
  readonly refusal: Refusal | undefined;
}

/** The least way from the centre of mass to the edge of what the part stands on, negative when beyond it, mm. */
const marginOn = ({ normal, corners }: RestPlane, centre: Vec3): number =>
  Math.min(
    ...polygonEdges(corners, normal).map(({ from, outward }) => -dot(subtract(centre, from), outward)),
  );

function judged(part: string, plane: RestPlane, centre: Vec3, settings: Settings): Rest {
  const { name: face, normal, offset, rolls } = plane;
  const height = snap(offset - dot(centre, normal), 1e-6);
  const margin = snap(marginOn(plane, centre), 1e-6);
  const { margin: least, tilt } = settings.rests;
  const limit = Math.max(least, height * Math.tan((tilt * Math.PI) / 180));
  const subjects = [part, face];
  if (rolls) return { face, height, margin, refusal: { code: 'rest-rolls', subjects } };
  const tips: Refusal = { code: 'rest-tips', subjects, value: margin, limit, unit: 'mm' };
  return { face, height, margin, refusal: margin >= limit ? undefined : tips };
}

/**
 * Every face of a part's convex hull as a rest, lowest first; those it would tip or roll on carry the refusal. A
 * homogeneous body on a face comes back from a tilt as long as its centre of mass stays inside what it stands on.
 */
export function restsOf(part: string, shape: Shape, settings: Settings): readonly Rest[] {
  const { centre } = shapeSolid(shape);
  return restPlanes(shape)
    .map((plane) => judged(part, plane, centre, settings))
    .sort((p, q) => p.height - q.height || turnsOver(shape, p) - turnsOver(shape, q));
}

/** Prefers the face that needs the least turning. */
const turnsOver = (shape: Shape, { face }: Rest): number =>
  Math.round(1 - rotate(restPose(shape, face)!.turn, [0, 0, 1])[2]);

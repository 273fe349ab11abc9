import { snap } from '../base/order.js';
import { faceFrame, lyingOn, OUTER_FACES, shapeSolid } from '../model/part-geometry.js';
import type { OuterFace } from '../model/scalars.js';
import type { Refusal } from '../model/verdict.js';
import type { Shape } from '../model/weldment.js';
import { dot, subtract } from '../geometry/vector.js';
import { rotate } from '../geometry/pose.js';

/** A way for a part to lie on a flat station: the face it lies on. */
export interface Rest {
  readonly face: OuterFace;
  /** Height of the centre of mass above the station, mm. */
  readonly height: number;
  /** Distance of the centre of mass, seen from above, from the nearest edge it could tip over, mm. */
  readonly margin: number;
  readonly refusal: Refusal | undefined;
}

/** The centre of mass stays this far inside the face, mm, and this far from tipping, tangent of 10 degrees. */
const LEAST_MARGIN = 5;
const LEAST_TILT = Math.tan((10 * Math.PI) / 180);

/** Every outer face as a rest, lowest first; unstable ones carry the refusal. */
export function restsOf(part: string, shape: Shape): readonly Rest[] {
  const { centre } = shapeSolid(shape);
  return OUTER_FACES.map((face) => {
    const frame = faceFrame(shape, face);
    const from = subtract(centre, frame.centre);
    const height = snap(-dot(from, frame.normal), 1e-6);
    const margin = snap(
      Math.min(frame.halfU - Math.abs(dot(from, frame.u)), frame.halfV - Math.abs(dot(from, frame.v))),
      1e-6,
    );
    const limit = Math.max(LEAST_MARGIN, height * LEAST_TILT);
    const stable = margin >= limit;
    return {
      face,
      height,
      margin,
      refusal: stable
        ? undefined
        : { code: 'rest-tips', subjects: [part, face], value: margin, limit, unit: 'mm' },
    };
  }).sort((p, q) => p.height - q.height || lying(p.face) - lying(q.face));
}

/** Prefers the face that needs the least turning. */
const lying = (face: OuterFace): number => Math.round(1 - rotate(lyingOn(face), [0, 0, 1])[2]);

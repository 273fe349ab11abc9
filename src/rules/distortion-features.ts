import { distance, length, subtract, type Vec3 } from '../geometry/vector.js';
import { linearTolerance, type ToleranceClass } from '../mechanics/iso-13920.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';

/** How far the end of a tolerance feature is off its place. Lengths in mm. */
export interface FeatureDeviation {
  readonly name: string;
  /** Ids of its two parts. */
  readonly from: string;
  readonly to: string;
  readonly class: ToleranceClass;
  /** Distance of the origins of the two parts. */
  readonly nominal: number;
  /** How far the origin of the second is off its place as seen from the first. */
  readonly deviation: number;
  /** General tolerance of the finished weldment, +-. */
  readonly tolerance: number;
  /** The share of it that tacking may use up. */
  readonly limit: number;
}

/** Where each point of a part has gone, mm: of part by index, at a point of the cell. */
export type DisplacementOf = (part: number, at: Vec3) => Vec3;

/**
 * The tolerance features of a weldment under displacements. The whole shift counts, not only what the distance changes by,
 * so that a part that leans is seen; and the first part's own shift and turn are taken off, so that it does not matter how
 * the weldment as a whole has moved.
 */
export const featureDeviations = (
  { weldment, parts, index }: Scene,
  settings: Settings,
  displacement: DisplacementOf,
): readonly FeatureDeviation[] =>
  weldment.tolerances.map(({ name, from, to, 'iso-13920': of }) => {
    const [p, q] = [index.get(from)!, index.get(to)!];
    const [start, end] = [parts[p]!.pose.at, parts[q]!.pose.at];
    const nominal = distance(start, end);
    const tolerance = linearTolerance(of, nominal);
    return {
      ...{ name, from, to, class: of, nominal, tolerance },
      deviation: length(subtract(displacement(q, end), displacement(p, end))),
      limit: tolerance * settings.distortion['limit-share'],
    };
  });

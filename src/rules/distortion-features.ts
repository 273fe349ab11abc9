import { distance, length, subtract, type Vec3 } from '../geometry/vector.js';
import { linearTolerance, type ToleranceClass } from '../mechanics/iso-13920.js';
import { originOf } from '../model/group.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';

/** A tolerance feature of a weldment. Lengths in mm. */
export interface ToleranceFeature {
  readonly name: string;
  readonly class: ToleranceClass;
  /** Its two parts, by index. */
  readonly from: number;
  readonly to: number;
  /** The point whose shift is judged: the origin of the second part, in the cell. */
  readonly at: Vec3;
  /** Distance of the origins of the two parts. */
  readonly nominal: number;
  /** General tolerance of the finished weldment, +-. */
  readonly tolerance: number;
  /** The share of it that tacking may use up. */
  readonly limit: number;
}

/** How far the end of a tolerance feature is off its place, with its two parts by their ids. */
export interface FeatureDeviation extends Omit<ToleranceFeature, 'from' | 'to' | 'at'> {
  readonly from: string;
  readonly to: string;
  /** How far the origin of the second is off its place as seen from the first. */
  readonly deviation: number;
}

/** Where each point of a part has gone, mm: of part by index, at a point of the cell. */
export type DisplacementOf = (part: number, at: Vec3) => Vec3;

/** The tolerance features of a weldment, in the order of its file. */
export const toleranceFeatures = (
  { weldment, parts, index }: Scene,
  { distortion }: Settings,
): readonly ToleranceFeature[] =>
  weldment.tolerances.map(({ name, from, to, 'iso-13920': of, members }) => {
    const [p, q] = [index.get(from)!, index.get(to)!];
    const at = originOf(parts[q]!, members?.[1]);
    const nominal = distance(originOf(parts[p]!, members?.[0]), at);
    const tolerance = linearTolerance(of, nominal);
    const limit = tolerance * distortion['limit-share'];
    return { name, class: of, from: p, to: q, at, nominal, tolerance, limit };
  });

/**
 * The tolerance features of a weldment under displacements. The whole shift counts, not only what the distance changes by,
 * so that a part that leans is seen; and the first part's own shift and turn are taken off, so that it does not matter how
 * the weldment as a whole has moved.
 */
export const featureDeviations = (
  scene: Scene,
  settings: Settings,
  displacement: DisplacementOf,
): readonly FeatureDeviation[] =>
  toleranceFeatures(scene, settings).map(({ from, to, at, ...feature }) => ({
    ...feature,
    from: scene.parts[from]!.part.id,
    to: scene.parts[to]!.part.id,
    deviation: length(subtract(displacement(to, at), displacement(from, at))),
  }));

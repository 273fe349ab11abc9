import { z } from 'zod';
import { rounded } from '../base/order.js';
import { along, dot, length, type Vec3 } from '../geometry/vector.js';

/** Main welding positions of ISO 6947, flattest first; PF and PG are the two ways along an upright seam. */
export const weldingPositionSchema = z
  .enum(['PA', 'PB', 'PC', 'PD', 'PE', 'PF', 'PG'])
  .describe(
    'welding position of ISO 6947: PA flat, PB horizontal fillet, PC horizontal, PD horizontal overhead, PE overhead, PF upward, PG downward',
  );

export type WeldingPosition = z.infer<typeof weldingPositionSchema>;

/** Positions of a level seam by how steeply its open side looks up, degrees: each from here on, the first that fits. */
const LEVEL: readonly (readonly [from: number, position: WeldingPosition])[] = [
  [67.5, 'PA'],
  [22.5, 'PB'],
  [-22.5, 'PC'],
  [-67.5, 'PD'],
  [-90, 'PE'],
];

/** A seam steeper than this is upright, degrees. */
const STEEP = 45;

const degrees = (sine: number): number =>
  rounded((Math.asin(Math.min(1, Math.max(-1, sine))) * 180) / Math.PI, 3);

/**
 * Welding position of a run that goes along `way` on a seam whose open side looks along `open` (unit vectors, z up).
 * It follows from the slope of the run against the horizontal and from the rotation of the open side about it, as
 * ISO 6947 defines them: slope 0 and the open side at 90, 45, 0, -45 and -90 degrees above the horizontal are PA, PB,
 * PC, PD and PE; a slope of 90 degrees upward is PF and downward PG. The main positions and their angles are from
 * memory. Between them the nearest one is named: limits at 22.5 and 67.5 degrees of rotation and 45 of slope, on
 * which the flatter one is named, are our own reading and choice. The tilt of the torch changes neither angle: the
 * pool lies in the seam, whatever way the wire points.
 */
export function weldingPosition(way: Vec3, open: Vec3): WeldingPosition {
  const slope = degrees(way[2]);
  if (Math.abs(slope) > STEEP) return slope > 0 ? 'PF' : 'PG';
  // Upward as far as it is square to the run: the rotation is measured in that plane.
  const up = along([0, 0, 1], way, -way[2]);
  const elevation = degrees(dot(open, up) / length(up));
  return LEVEL.find(([from]) => elevation >= from)![1];
}

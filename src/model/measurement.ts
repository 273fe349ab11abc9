import type { Vec3 } from '../geometry/vector.js';

/** The axes of the weldment frame along which deviations are measured, in their order. */
export const AXES = ['x', 'y', 'z'] as const;

/** What can be measured: how far a point is off along an axis, or how far a slender member bows, whichever way. */
export const DIRECTIONS = [...AXES, 'bow'] as const;

export type DirectionName = (typeof DIRECTIONS)[number];

/** How far a point of a part was found off its nominal place at a moment of the tack-up. */
export interface Measurement {
  /** Line of the file it was read from. */
  readonly line: number;
  /** Number of a stage (at its end), or what was just done then, as the plan names it: the id of a tack, or a let-go. */
  readonly step: string;
  readonly part: string;
  readonly direction: DirectionName;
  /**
   * Deviation along the direction, in the weldment frame, mm; of a bow how far the middle of the member to which the part
   * belongs is off the line of its ends, without a sign.
   */
  readonly millimetres: number;
  /** The nominal place of the point measured, in the weldment frame, mm; absent: the centre of mass of the part. */
  readonly at: Vec3 | undefined;
}

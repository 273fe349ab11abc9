import type { Vec3 } from '../geometry/vector.js';

/** One thing that holds, by its kind and its number in the system. */
export interface Element {
  readonly kind: 'bearing' | 'link' | 'pad' | 'hold';
  readonly index: number;
}

/** Forces that keep a system in balance, N, cell frame. */
export interface ForceSet {
  /** Factor by which all weights are multiplied. */
  readonly gravity: number;
  /** Factor by which the disturbance is multiplied; zero when there is none. */
  readonly disturbance: number;
  /** Push of each bearing on its body `b` at each corner, clamping force not taken off. */
  readonly bearings: readonly (readonly Vec3[])[];
  /** Force of each tack on its body `b` at its two points. */
  readonly links: readonly (readonly Vec3[])[];
  /** Push of each pad on its body at each of its eight points, pull not taken off. */
  readonly pads: readonly (readonly Vec3[])[];
}

/** Whether and with what reserve one load is carried. */
export interface Verdict {
  /** `gravity`, or the name of the disturbance. */
  readonly name: string;
  /** Factor by which the load may grow before balance is lost: 0 to 10, rounded to a millionth, 10 meaning "or more". */
  readonly reserve: number;
  /** Reserve of at least one. */
  readonly stands: boolean;
  /** What gives way first; undefined at the greatest reserve, or when nothing in the system could help. */
  readonly weakest: Element | undefined;
  /** The forces found, when they were asked for and exist: for gravity at factor one, for disturbances at the reserve or above the greatest. */
  readonly forces: ForceSet | undefined;
  /** Why the engine gave no trustworthy answer; the load then counts as not carried. */
  readonly failure: string | undefined;
}

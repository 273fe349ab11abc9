import type { Vec3 } from '../../geometry/vector.js';
import type { ShapeKey } from '../../model/shape.js';
import type { Turn } from './frame-choice.js';

/** A solid as a part of a weldment file can have it. */
export interface RecognisedPart {
  readonly kind: 'part';
  readonly key: ShapeKey;
  /** What stands behind the key in a weldment file, mm. */
  readonly sizes: Readonly<Record<string, unknown>>;
  readonly at: Vec3;
  readonly turn: Turn;
  /** kg of the solid, where that of the shape would be off by more than `MASS_OFF`. */
  readonly mass: number | undefined;
  /** What differs between solid and part, each a sentence without its stop. */
  readonly notes: readonly string[];
}

/** A solid that is none of the shapes. */
export interface UnknownSolid {
  readonly kind: 'unknown';
  /** What was seen instead. */
  readonly seen: string;
}

/** The shape in its own frame before its frame is chosen. */
export interface Draft {
  readonly key: ShapeKey;
  readonly sizes: Readonly<Record<string, unknown>>;
  readonly at: Vec3;
  readonly turn: Turn;
  readonly notes: readonly string[];
}

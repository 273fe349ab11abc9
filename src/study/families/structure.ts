import type { GripperName } from './grippers.js';
import type { Vec3 } from '../../geometry/vector.js';
import type { Random } from '../../base/random.js';
import type { JointType } from '../../model/weldment.js';

interface Box {
  readonly length: number;
  readonly width: number;
  readonly height: number;
}

/** The shapes of generated parts, as a weldment file writes them. Lengths in mm. */
export type StructureShape =
  | { readonly 'rectangular-hollow-section': Box & { readonly wall: number } }
  | { readonly plate: { readonly length: number; readonly width: number; readonly thickness: number } }
  | { readonly block: Box };

export interface StructurePart {
  readonly id: string;
  /**
   * Parts of one name can stand for one another: one shape, and contacts, joints, blocking and needs that stay the same
   * when two of them change places.
   */
  readonly alike: string;
  readonly shape: StructureShape;
  /** Centre in the weldment frame, mm. */
  readonly at: Vec3;
  /** Roll, pitch, yaw in degrees. */
  readonly turn?: Vec3;
  /** Fills the room between two other parts along its own length, and may be cut shorter to slide in later. */
  readonly fits?: true;
}

export interface StructureJoint {
  readonly between: readonly [string, string];
  readonly type: JointType;
  readonly sides: 'one' | 'both';
  /** The way the seam of a one-sided joint opens. */
  readonly open?: Vec3;
  /** Length of a seam, mm. */
  readonly seam: number;
}

/** Parts that are alike cannot join once another part is there: all these pairs hold, or none does. */
export interface StructureBlock {
  readonly alike: string;
  readonly by: string;
}

/**
 * What a family builds, from which both forms of an instance are made. Its parts stand in an order in which they can
 * join: each but the first touches an earlier one, and blocking and needs agree with it.
 */
export interface Structure {
  readonly parts: readonly StructurePart[];
  readonly joints: readonly StructureJoint[];
  /** Pairs that touch and are not joined. */
  readonly touching: readonly (readonly [string, string])[];
  /** The blocking that makes sense; how much of it holds is a dial. */
  readonly blocks: readonly StructureBlock[];
  readonly needs: readonly { readonly part: string; readonly after: readonly string[] }[];
}

/** Without shapes, or with them. */
export type Form = 'abstract' | 'geometric';

/** One kind of weldment, in any number of parts. */
export interface Family {
  readonly name: string;
  /** One line for help and documentation. */
  readonly about: string;
  /** In the cell that goes with the geometric form. */
  readonly grippers: readonly GripperName[];
  /**
   * Both forms have the same parts, contacts, joints, blocking and needs. The sizes of the geometric one leave room for
   * torches and grippers, and its joints have seams only where a torch gets to them; of the abstract one, sizes are
   * nothing but the source of masses and lengths of seams.
   *
   * @param parts from LEAST_PARTS to MOST_PARTS
   * @param random of sizes and places
   */
  build(parts: number, random: Random, form: Form): Structure;
}

export const LEAST_PARTS = 6;
export const MOST_PARTS = 200;

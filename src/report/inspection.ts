import type { Lifting } from '../facts/lifting.js';
import type { Rest } from '../facts/rests.js';
import type { SeamAccess } from '../facts/seam-access.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Refusal } from '../model/verdict.js';
import type { Shape } from '../model/shape.js';
import type { JointType } from '../model/weldment.js';
import type { ReachView } from './reach-view.js';

/** What a weldment, and a cell if there is one, implies. Weldment frame, mm, kg, degrees; plain data for JSON. */
export interface Inspection {
  readonly weldment: string;
  readonly parts: readonly PartView[];
  readonly contacts: readonly ContactView[];
  readonly joints: readonly JointView[];
  /** Joints that the file asks for and the geometry does not give. */
  readonly jointMisses: readonly JointMissView[];
  /** Absent when the weldment was looked at without a cell. */
  readonly cell?: CellView;
  /** What each robot gets to, and advice on the cell; only where it was asked for. */
  readonly reach?: ReachView;
}

export interface PartView {
  readonly id: string;
  readonly shape: Shape;
  readonly at: Vec3;
  readonly turn: Vec3;
  readonly mass: number;
  readonly massFrom: 'given' | 'derived';
  /** Centre of mass where the part finally is. */
  readonly centre: Vec3;
  readonly material: string;
  /** Of a part that a person sets: planned seconds, and within how many mm of its place it counts as put. */
  readonly manual?: { readonly seconds: number; readonly within: number };
  /** None of a part that a person sets. */
  readonly approaches: readonly ApproachView[];
}

/** A straight way into place and what is in the way. */
export interface ApproachView {
  /** Unit direction of travel. */
  readonly direction: Vec3;
  readonly hits: readonly string[];
  /** Pairs of parts between which there is too little room to slide in. */
  readonly squeezes: readonly (readonly [string, string])[];
  readonly fixed: 'table' | 'keep-out' | null;
}

export interface ContactView {
  readonly between: readonly [string, string];
  readonly patches: readonly PatchView[];
  /** mm2, of all patches. */
  readonly area: number;
  /** Widest gap of the patches. */
  readonly gap: number;
  /** How many areas really touch and may carry force; none: the parts are only adjacent. */
  readonly bearings: number;
}

export interface PatchView {
  readonly faces: readonly [string, string];
  readonly area: number;
  readonly gap: number;
}

export interface JointView {
  readonly id: string;
  readonly between: readonly [string, string];
  readonly type: JointType;
  readonly leg: number;
  readonly origin: 'given' | 'proposed';
  readonly seams: readonly SeamView[];
}

export interface SeamView {
  readonly id: string;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly length: number;
  /** Unit direction of the open side, where the torch comes from. */
  readonly open: Vec3;
}

export interface JointMissView {
  /** Id of the joint that has no seam. */
  readonly joint: string;
  readonly between: readonly [string, string];
  readonly why: 'no-contact' | 'no-seam';
}

/** Candidates that were judged: how many, how many may be used, and why the others may not. */
export interface Tally {
  readonly considered: number;
  readonly usable: number;
  /** Most frequent reason first. */
  readonly refused: readonly RefusalCount[];
}

/** How often one reason was given, and the candidate that missed by least. */
export interface RefusalCount {
  readonly code: string;
  readonly count: number;
  readonly nearest: Refusal;
}

export interface CellView {
  readonly name: string;
  readonly parts: readonly PartInCell[];
  readonly seams: readonly SeamInCell[];
}

export interface PartInCell {
  readonly id: string;
  /** A person sets it: robots have no grips of it. */
  readonly byHand?: true;
  readonly rests: readonly Rest[];
  /** Face it lies on at the infeed; null when it lies nowhere stably and the file does not say. */
  readonly infeed: string | null;
  /** Grips, judged by payload, pads and wrist alone. */
  readonly grips: Tally;
  /** The best usable grip beside a published lifting factor; null when there is no such grip or factor. */
  readonly lifting: Lifting | null;
  /** The usable grips at the infeed. */
  readonly takes: Tally;
  /** Pairs of a usable grip and an approach that the table and keep-outs leave, with no other part in place. */
  readonly places: Tally;
}

/** How much of a seam the torch gets at. */
export interface SeamInCell {
  readonly id: string;
  readonly between: readonly [string, string];
  /** Unit direction of the open side in the weldment frame. */
  readonly open: Vec3;
  /** With only its two parts in place. */
  readonly alone: SeamAccess;
  /** The same by each welding robot alone; empty where the cell has one. */
  readonly byRobot: readonly { readonly robot: string; readonly access: SeamAccess }[];
  /** With all parts in place. */
  readonly beside: SeamAccess;
}

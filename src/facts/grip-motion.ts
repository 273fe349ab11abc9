import { Listed } from '../base/listed.js';
import type { PartSet } from '../base/part-set.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Joints } from '../kinematics/arm.js';
import type { Refusal } from '../model/verdict.js';
import type { Route, Routes } from './routes.js';

/** Joints of the handling arm at a grip and at the far ends of its two strokes, in one branch, and the ways from home and back. */
export interface GripMotion {
  /** Of the arm, 0 to 7. */
  readonly branch: number;
  readonly joints: Joints;
  /** Where the stroke onto the part, or with the part, begins. */
  readonly approach: Joints;
  /** Where the lift or the retreat ends. */
  readonly leave: Joints;
  /** Joints along both strokes, from the start of the first to the end of the second. */
  readonly strokes: readonly Joints[];
  /** Parts in their final places that the links of the arm meet in the strokes. */
  readonly hits: PartSet;
  readonly come: Routes;
  readonly go: Routes;
}

/** A motion at a station, with ways from home and back that keep clear of every part in its final place. */
export interface StationMotion extends GripMotion {
  readonly out: Route;
  readonly back: Route;
}

/** Motions of one grip at one place, branch by branch as they are asked for, and the first reason against one. */
export class Motions {
  readonly all: Listed<GripMotion>;
  private refusal: Refusal | undefined;

  constructor(find: (refuse: (refusal: Refusal) => void) => Generator<GripMotion>) {
    this.all = new Listed(find((refusal) => (this.refusal ??= refusal)));
  }

  get first(): Result<GripMotion, Refusal> {
    for (const motion of this.all) return ok(motion);
    return fail(this.refusal!);
  }
}

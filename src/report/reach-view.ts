import type { Vec3 } from '../geometry/vector.js';
import type { JointNumber } from '../kinematics/arm.js';
import type { StationName } from '../model/stations.js';
import type { Refusal } from '../model/verdict.js';

/** Where something must be reached: a station, the work table, or the stands of the grippers. */
export type ReachPlace = StationName | 'table' | 'stand';

export interface Share {
  readonly reached: number;
  readonly of: number;
}

/** What one robot gets to at one place. Plain data for JSON; mm and degrees. */
export interface ReachRow {
  readonly robot: string;
  readonly place: ReachPlace;
  readonly what: 'parts' | 'seams' | 'grippers';
  readonly targets: Share;
  /** Grips of the parts, tack sites of the seams. */
  readonly ways: Share;
  /** Of the targets that are reached, the one whose best way comes nearest to a limit of a joint. */
  readonly worst: { readonly target: string; readonly degrees: number; readonly joint: JointNumber } | null;
  readonly missed: readonly MissedTarget[];
}

export interface MissedTarget {
  readonly target: string;
  /** No robot gets to it, and a plan cannot do without it. */
  readonly needed: boolean;
  readonly ways: Share;
  /** The smallest miss; null where there was no way to ask an arm about. */
  readonly nearest: Refusal | null;
}

/** A change of the cell, and what to write in its file. */
export interface ChangeView {
  readonly moved: { readonly what: 'table' | 'infeed' } | { readonly what: 'robot'; readonly id: string };
  /** mm */
  readonly shift: Vec3;
  /** About the vertical through its own origin, degrees. */
  readonly turn: number;
  /** By which changes are compared, mm. */
  readonly size: number;
  /** Places of the cell file with their new values. */
  readonly write: readonly { readonly path: string; readonly value: number | readonly number[] }[];
}

export interface ReachView {
  readonly rows: readonly ReachRow[];
  /** Places, parts and seams that no robot gets to and that a plan cannot do without, and how many there are in all. */
  readonly needed: Share;
  readonly advice: {
    /**
     * none-needed: all that is needed is reached; cured: the change brings everything into reach; better: it leaves
     * the fewest out of it; none-found: no change that was tried does.
     */
    readonly outcome: 'none-needed' | 'cured' | 'better' | 'none-found';
    readonly change: ChangeView | null;
    /** What a plan needs, or is reached now, and is not reached after the change. */
    readonly left: readonly { readonly place: ReachPlace; readonly target: string }[];
    /** What robots get to after the change; empty without one. */
    readonly rows: readonly ReachRow[];
    /** Places of the grid that were tried, and how many it has. */
    readonly tried: number;
    readonly of: number;
  };
}

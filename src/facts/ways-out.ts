import { compose, inverse, rotate, translate } from '../geometry/pose.js';
import { along, length, scale, unit, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { followStraight } from '../kinematics/straight-move.js';
import { STROKE_STEP } from '../kinematics/strokes.js';
import type { Handler, Welder } from '../model/cell.js';

const UP: Vec3 = [0, 0, 1];
/** How far up from the end of a stroke a route may pass, mm; how far on along the stroke; and how far towards the arm. */
const RAISED = [60, 150, 300, 500];
const DRAWN_BACK = [100, 250];
const DRAWN_IN = [150, 300, 500];
/** Both at once, from under or behind something: along the stroke, and towards the arm. */
const DRAWN_OUT = [
  [100, 300],
  [250, 500],
] as const;

/** How many ways out there are. */
export const WAYS_OUT = RAISED.length + DRAWN_BACK.length + DRAWN_IN.length + DRAWN_OUT.length;

/** The far end of a straight stroke, where a route begins or ends. */
export interface StrokeEnd {
  readonly joints: Joints;
  /** Unit direction, cell, in which the stroke led away from what it is at; undefined where there is no stroke. */
  readonly away: Vec3 | undefined;
}

/** A straight way of an arm: joints at its samples, and its length in mm. */
export interface WayOut {
  readonly way: readonly Joints[];
  readonly millimetres: number;
}

/** In which direction a stroke led, and where its arm can go from there. */
interface Known {
  readonly away: Vec3 | undefined;
  readonly ways: readonly (WayOut | null)[];
}

/** Straight ways of an arm out from ends of its strokes, whatever stands there. Routes come and go by the same ones. */
export class WaysOut {
  /** By the joints of the end: several routes begin or end at the same. */
  private readonly known = new WeakMap<Joints, Known>();

  constructor(private readonly robot: Handler | Welder) {}

  /**
   * WAYS_OUT of them: up, on along the stroke, and level towards the foot of the arm; null where the arm cannot follow one
   * or there is no stroke to follow.
   */
  from(end: StrokeEnd): readonly (WayOut | null)[] {
    const known = this.known.get(end.joints);
    if (known && isSame(known.away, end.away)) return known.ways;
    const ways = this.offsets(end).map((by) => (by ? this.follow(end.joints, by) : null));
    this.known.set(end.joints, { away: end.away, ways });
    return ways;
  }

  private offsets({ joints, away }: StrokeEnd): readonly (Vec3 | undefined)[] {
    const inward = this.towardsFoot(joints);
    return [
      ...RAISED.map((way) => scale(UP, way)),
      ...DRAWN_BACK.map((way) => away && scale(away, way)),
      ...DRAWN_IN.map((way) => inward && scale(inward, way)),
      ...DRAWN_OUT.map(([back, into]) => away && inward && along(scale(away, back), inward, into)),
    ];
  }

  /** Level and unit, from the flange to axis 1 of an upright arm; undefined where the flange is on it. */
  private towardsFoot(joints: Joints): Vec3 | undefined {
    const { base, arm } = this.robot;
    const { at } = compose(base, forward(arm, joints));
    const level: Vec3 = [base.at[0] - at[0], base.at[1] - at[1], 0];
    return length(level) < 1 ? undefined : unit(level);
  }

  private follow(joints: Joints, by: Vec3): WayOut | null {
    const { base, arm } = this.robot;
    const from = forward(arm, joints);
    const to = translate(from, rotate(inverse(base).turn, by));
    const way = followStraight(arm, from, to, joints, STROKE_STEP);
    return way.ok ? { way: way.value, millimetres: length(by) } : null;
  }
}

const isSame = (a: Vec3 | undefined, b: Vec3 | undefined): boolean =>
  a === b || (a !== undefined && b !== undefined && a.every((value, i) => value === b[i]));

import { compose, place, rotate, type Pose } from '../geometry/pose.js';
import { capsule, placedHull, type RoundedHull } from '../geometry/rounded-hull.js';
import { add, distance, scale, type Vec3 } from '../geometry/vector.js';
import { sixOf, type Joints, type Six } from './arm.js';
import { linkCount, type ArmBody, type ToolPiece } from './arm-body.js';
import { posture } from './forward.js';

/** A ball that contains an element. */
export interface Ball {
  readonly centre: Vec3;
  readonly radius: number;
}

/** How many axes move each link; all six move the dress pack and what is fixed to the flange. */
const AXES_BEFORE: readonly number[] = [1, 2, 3, 5];

/** Balls around tool pieces in the flange frame, each found once. */
const TOOL_BALLS = new WeakMap<ToolPiece, Ball>();

function toolBall(piece: ToolPiece): Ball {
  let ball = TOOL_BALLS.get(piece);
  if (!ball) {
    const { points } = piece;
    const centre = scale(points.reduce(add), 1 / points.length);
    ball = { centre, radius: Math.max(...points.map((point) => distance(point, centre))) };
    TOOL_BALLS.set(piece, ball);
  }
  return ball;
}

/** An arm at some joint values, its elements placed as they are asked for: first a ball around one, then its hull. */
export class ArmSample {
  private readonly links: readonly (readonly [from: Vec3, to: Vec3, radius: number])[];
  private readonly flange: Pose;
  /** A point on each axis; for axis 1 the one at the height of the shoulder. */
  private readonly axisPoints: readonly Vec3[];
  private readonly hulls: (RoundedHull | undefined)[] = [];
  private readonly balls: (Ball | undefined)[] = [];

  constructor(
    private readonly body: ArmBody,
    joints: Joints,
  ) {
    const { base, arm, radii } = body;
    const { points, turn } = posture(arm, joints);
    const [shoulder, elbow, wrist, flange] = [
      place(base, points.shoulder),
      place(base, points.elbow),
      place(base, points.wrist),
      place(base, points.flange),
    ];
    this.links = [
      [base.at, shoulder, radii.column],
      [shoulder, elbow, radii.upperArm],
      [elbow, wrist, radii.forearm],
      [wrist, flange, radii.wrist],
      ...(radii.dressPack === undefined ? [] : [[flange, elbow, radii.dressPack] as const]),
    ];
    this.flange = compose(base, { at: points.flange, turn });
    const first = place(base, [0, 0, points.shoulder[2]]);
    this.axisPoints = [first, shoulder, elbow, wrist, wrist, wrist];
  }

  /** How many elements there are: links first, tool pieces after them. */
  get count(): number {
    return linkCount(this.body) + this.body.tool.length;
  }

  ball(element: number): Ball {
    return (this.balls[element] ??= this.ballOf(element));
  }

  hull(element: number): RoundedHull {
    return (this.hulls[element] ??= this.hullOf(element));
  }

  /**
   * The longest lever of an element about each axis, mm: from a point of the axis to the far side of its ball, for the
   * axes that move it; 0 for the others.
   */
  protected levers(element: number): Six<number> {
    const { centre, radius } = this.ball(element);
    const moved = AXES_BEFORE[element] ?? 6;
    return sixOf((axis) => (axis < moved ? distance(centre, this.axisPoints[axis]!) + radius : 0));
  }

  private ballOf(element: number): Ball {
    const link = this.links[element];
    if (link) {
      const [from, to, radius] = link;
      return { centre: scale(add(from, to), 0.5), radius: distance(from, to) / 2 + radius };
    }
    const { centre, radius } = toolBall(this.body.tool[element - this.links.length]!);
    return { centre: add(this.flange.at, rotate(this.flange.turn, centre)), radius };
  }

  private hullOf(element: number): RoundedHull {
    const link = this.links[element];
    if (link) return capsule(...link);
    return placedHull(this.body.tool[element - this.links.length]!.points, 0, this.flange);
  }
}

/** The elements of an arm at joint values, in the cell: links first, tool pieces after them. */
export function elementsAt(body: ArmBody, joints: Joints): readonly { readonly hull: RoundedHull }[] {
  const sample = new ArmSample(body, joints);
  return Array.from({ length: sample.count }, (_, element) => ({ hull: sample.hull(element) }));
}

import type { RoundedHull } from '../geometry/rounded-hull.js';
import { MovingHull } from '../geometry/moving-hull.js';
import { flatten } from '../geometry/convex.js';
import { add, distance, scale, type Vec3 } from '../geometry/vector.js';
import type { Joints, Six } from './arm.js';
import { linkCount, type ArmBody, type LinkRadii, type ToolPiece } from './arm-body.js';
import { POSTURE_ROW, postureRow } from './forward.js';

/** Points of an arm, by their place in a list: the foot of axis 1, its point at the height of the shoulder, and the bends. */
const [FOOT, FIRST, SHOULDER, ELBOW, WRIST, FLANGE] = [0, 1, 2, 3, 4, 5];

/** The ends of each link and the name of its radius. */
const LINK_ENDS: readonly (readonly [from: number, to: number, radius: keyof LinkRadii])[] = [
  [FOOT, SHOULDER, 'column'],
  [SHOULDER, ELBOW, 'upperArm'],
  [ELBOW, WRIST, 'forearm'],
  [WRIST, FLANGE, 'wrist'],
  [FLANGE, ELBOW, 'dressPack'],
];

/** A point on each axis. */
const AXIS_POINTS = [FIRST, SHOULDER, ELBOW, WRIST, WRIST, WRIST];

/** How many axes move each link; all six move the dress pack and what is fixed to the flange. */
const AXES_BEFORE: readonly number[] = [1, 2, 3, 5];

/** Where a posture has its bends: after shoulder, elbow, wrist and flange comes the turn of the flange. */
const TURN = 12;

/** The posture that an arm takes just now. */
const ROW = new Float64Array(POSTURE_ROW);

/** A tool piece in the flange frame: its corners, and a ball around them. */
interface ToolShape {
  readonly points: Float64Array;
  readonly centre: Vec3;
  readonly radius: number;
}

/** By tool piece; worked out once. */
const TOOL_SHAPES = new WeakMap<ToolPiece, ToolShape>();

function toolShape(piece: ToolPiece): ToolShape {
  let shape = TOOL_SHAPES.get(piece);
  if (!shape) {
    const { points } = piece;
    const centre = scale(points.reduce(add), 1 / points.length);
    const radius = Math.max(...points.map((point) => distance(point, centre)));
    TOOL_SHAPES.set(piece, (shape = { points: flatten(points), centre, radius }));
  }
  return shape;
}

/**
 * An arm that is put into one posture after the other, and its elements, links first, tool pieces after them: placed as
 * they are asked for, first a ball around one, then its hull. All numbers are kept in the same room each time, and what is
 * done in each posture is written out.
 */
export class ArmSample {
  /** How many elements there are. */
  readonly count: number;
  private readonly links: number;
  /** x, y, z of each point of the arm, in the cell. */
  private readonly points = new Float64Array(3 * 6);
  /** The frame of the flange in the cell: its origin, then its turn row by row. */
  private readonly flange = new Float64Array(12);
  private readonly shapes: readonly ToolShape[];
  /** Centre and radius of the ball around each element. */
  private readonly balls: Float64Array;
  private readonly hulls: (MovingHull | undefined)[] = [];
  /** How many postures it was put into, and in which of them balls and hulls were last placed. */
  private postures = 0;
  private readonly ballsAt: number[];
  private readonly hullsAt: number[];

  constructor(private readonly body: ArmBody) {
    this.links = linkCount(body);
    this.count = this.links + body.tool.length;
    this.shapes = body.tool.map(toolShape);
    this.balls = new Float64Array(4 * this.count);
    this.ballsAt = new Array<number>(this.count).fill(0);
    this.hullsAt = new Array<number>(this.count).fill(0);
    this.points.set(body.base.at);
  }

  /** Puts the arm into a posture. */
  take(joints: ArrayLike<number>): void {
    const { flange } = this;
    const { base, arm } = this.body;
    const row = ROW;
    postureRow(arm, joints, row);
    this.setPoint(FIRST, 0, 0, row[2]!);
    for (let bend = 0; bend < 4; bend += 1)
      this.setPoint(SHOULDER + bend, row[3 * bend]!, row[3 * bend + 1]!, row[3 * bend + 2]!);
    for (let axis = 0; axis < 3; axis += 1) {
      flange[axis] = this.points[3 * FLANGE + axis]!;
      const x = base.turn[3 * axis]!;
      const y = base.turn[3 * axis + 1]!;
      const z = base.turn[3 * axis + 2]!;
      for (let at = 0; at < 3; at += 1)
        flange[3 + 3 * axis + at] = x * row[TURN + at]! + y * row[TURN + 3 + at]! + z * row[TURN + 6 + at]!;
    }
    this.postures += 1;
  }

  /** Where the ball around an element is written: x, y, z and radius, from four times its place on. */
  ball(element: number): Float64Array {
    this.placeBall(element);
    return this.balls;
  }

  /** The hull of an element in this posture; in the next one it is moved. */
  hull(element: number): RoundedHull {
    const hull = (this.hulls[element] ??= this.newHull(element));
    if (this.hullsAt[element] === this.postures) return hull;
    this.hullsAt[element] = this.postures;
    if (element >= this.links) hull.place(this.shapes[element - this.links]!.points, this.flange);
    else hull.span(this.points, LINK_ENDS[element]![0], LINK_ENDS[element]![1]);
    return hull;
  }

  /**
   * The way of an element's farthest point, mm, while the axes turn by some angles: the sum of the angles times the levers,
   * each from a point of the axis to the far side of the element's ball, and longer by what the element has moved at most.
   */
  wayByLevers(element: number, turns: Six<number>, moved: number): number {
    this.placeBall(element);
    const { balls, points } = this;
    const axes = AXES_BEFORE[element] ?? 6;
    let sum = 0;
    for (let axis = 0; axis < axes; axis += 1) {
      const at = 3 * AXIS_POINTS[axis]!;
      const x = balls[4 * element]! - points[at]!;
      const y = balls[4 * element + 1]! - points[at + 1]!;
      const z = balls[4 * element + 2]! - points[at + 2]!;
      sum += turns[axis]! * (Math.sqrt(x * x + y * y + z * z) + balls[4 * element + 3]! + moved);
    }
    return sum;
  }

  /** A point of the base frame of the arm, in the cell. */
  private setPoint(place: number, x: number, y: number, z: number): void {
    const { at, turn } = this.body.base;
    const { points } = this;
    points[3 * place] = at[0] + (turn[0] * x + turn[1] * y + turn[2] * z);
    points[3 * place + 1] = at[1] + (turn[3] * x + turn[4] * y + turn[5] * z);
    points[3 * place + 2] = at[2] + (turn[6] * x + turn[7] * y + turn[8] * z);
  }

  private placeBall(element: number): void {
    if (this.ballsAt[element] === this.postures) return;
    this.ballsAt[element] = this.postures;
    if (element < this.links) this.placeLinkBall(element);
    else this.placeToolBall(element, this.shapes[element - this.links]!);
  }

  private placeLinkBall(element: number): void {
    const { points, balls } = this;
    const [from, to, name] = LINK_ENDS[element]!;
    let squared = 0;
    for (let axis = 0; axis < 3; axis += 1) {
      const a = points[3 * from + axis]!;
      const b = points[3 * to + axis]!;
      balls[4 * element + axis] = (a + b) * 0.5;
      squared += (a - b) * (a - b);
    }
    balls[4 * element + 3] = Math.sqrt(squared) / 2 + this.body.radii[name]!;
  }

  private placeToolBall(element: number, { centre, radius }: ToolShape): void {
    const { flange, balls } = this;
    for (let axis = 0; axis < 3; axis += 1)
      balls[4 * element + axis] =
        flange[axis]! +
        (flange[3 + 3 * axis]! * centre[0] +
          flange[4 + 3 * axis]! * centre[1] +
          flange[5 + 3 * axis]! * centre[2]);
    balls[4 * element + 3] = radius;
  }

  private newHull(element: number): MovingHull {
    if (element >= this.links) return new MovingHull(this.shapes[element - this.links]!.points.length / 3, 0);
    return new MovingHull(2, this.body.radii[LINK_ENDS[element]![2]]!);
  }
}

/** The elements of an arm at joint values, in the cell: links first, tool pieces after them. */
export function elementsAt(body: ArmBody, joints: Joints): readonly { readonly hull: RoundedHull }[] {
  const sample = new ArmSample(body);
  sample.take(joints);
  return Array.from({ length: sample.count }, (_, element) => ({ hull: sample.hull(element) }));
}

import { boundsApart, type Bounds } from '../geometry/bounds.js';
import type { RoundedHull } from '../geometry/rounded-hull.js';
import { motionBounds, type ArmBody } from '../kinematics/arm-body.js';
import { ArmSample } from '../kinematics/arm-sample.js';
import { between, keysMet } from '../kinematics/clear-path.js';
import type { Joints } from '../kinematics/arm.js';

/** What one arm does while a step lasts: joint moves through some postures, or standing at one. */
export interface ArmCourse {
  readonly body: ArmBody;
  readonly way: readonly Joints[];
}

/** An arm is taken as standing still for stretches in which no point of it moves farther than this, mm: first, then finer. */
export const STRETCHES: readonly number[] = [80, 10];
/** Two torches at one joint come nearer to one another than other arms do, often by no more than the clearance. */
export const TORCH_STRETCHES: readonly number[] = [...STRETCHES, 2];

const grown = ({ coordinates, radius, bounds }: RoundedHull, by: number): RoundedHull => ({
  coordinates,
  radius: radius + by,
  bounds: {
    low: [bounds.low[0] - by, bounds.low[1] - by, bounds.low[2] - by],
    high: [bounds.high[0] + by, bounds.high[1] + by, bounds.high[2] + by],
  },
});

/**
 * Puts the arm into the middle of one stretch of a course after the other, in which no point of it moves farther than `most`
 * from there, as long as a test holds; the test is told how far each element moves.
 */
function inEveryStretch(
  { body, way }: ArmCourse,
  most: number,
  holds: (arm: ArmSample, moves: readonly number[]) => boolean,
): boolean {
  const arm = new ArmSample(body);
  const last = Math.max(1, way.length - 1);
  for (let i = 0; i < last; i += 1) {
    const from = way[i]!;
    const to = way[i + 1] ?? from;
    const moves = motionBounds(body, from, to);
    const count = Math.max(1, Math.ceil(Math.max(...moves) / (2 * most)));
    const within = moves.map((move) => move / (2 * count));
    for (let k = 0; k < count; k += 1) {
      arm.take(between(from, to, (k + 0.5) / count));
      if (!holds(arm, within)) return false;
    }
  }
  return true;
}

/** The elements of an arm as it stands, grown; until it takes another posture. */
const elementsOf = (arm: ArmSample, moves: readonly number[]): readonly RoundedHull[] =>
  moves.map((by, element) => grown(arm.hull(element), by));

type Corner = [number, number, number];

function boxesOf(course: ArmCourse): readonly Bounds[] {
  const boxes: { readonly low: Corner; readonly high: Corner }[] = [];
  inEveryStretch(course, STRETCHES[0]!, (arm, moves) => {
    for (let element = 0; element < arm.count; element += 1) {
      const { low, high } = (boxes[element] ??= {
        low: [Infinity, Infinity, Infinity],
        high: [-Infinity, -Infinity, -Infinity],
      });
      const { bounds } = arm.hull(element);
      for (let axis = 0; axis < 3; axis += 1) {
        low[axis] = Math.min(low[axis]!, bounds.low[axis]! - moves[element]!);
        high[axis] = Math.max(high[axis]!, bounds.high[axis]! + moves[element]!);
      }
    }
    return true;
  });
  return boxes;
}

/** Boxes around each element of a course, over the whole of it. */
interface Boxed {
  readonly body: ArmBody;
  readonly boxes: readonly Bounds[];
}

/** By way: of the course that was asked for last. A way that is written anew in many orders is gone by the same arm. */
const BOXES = new WeakMap<ArmCourse['way'], Boxed>();

function boxes({ body, way }: ArmCourse): readonly Bounds[] {
  let known = BOXES.get(way);
  if (!known || !sameBody(known.body, body))
    BOXES.set(way, (known = { body, boxes: boxesOf({ body, way }) }));
  return known.boxes;
}

const sameBody = (a: ArmBody, b: ArmBody): boolean =>
  a === b || (a.base === b.base && a.arm === b.arm && a.radii === b.radii && a.tool === b.tool);

/**
 * Whether two arms keep at least `clearance` mm apart, wherever each is in its course. Boxes around whole courses answer
 * most; else the one moves past the other as it stands in each stretch of its course, grown by what it moves there. Errs
 * on the side of meeting.
 */
export function coursesApart(
  a: ArmCourse,
  b: ArmCourse,
  clearance: number,
  stretches: readonly number[],
): boolean {
  const [ofA, ofB] = [boxes(a), boxes(b)];
  const apart = ofA.every((one) => ofB.every((other) => boundsApart(one, other, -clearance)));
  return (
    apart ||
    stretches.some((most) =>
      inEveryStretch(
        b,
        most,
        (arm, moves) =>
          keysMet(a.body, a.way, {
            obstacles: elementsOf(arm, moves).map((hull) => ({ hull, key: 0 })),
            least: clearance,
            fatal: () => true,
          }).size === 0,
      ),
    )
  );
}

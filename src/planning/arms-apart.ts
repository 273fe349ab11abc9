import { boundsApart, boundsAround, type Bounds } from '../geometry/bounds.js';
import type { RoundedHull } from '../geometry/rounded-hull.js';
import { linkCount, motionBounds, type ArmBody } from '../kinematics/arm-body.js';
import { elementsAt } from '../kinematics/arm-sample.js';
import { between, keysMet } from '../kinematics/clear-path.js';
import type { Joints } from '../kinematics/arm.js';

/** What one arm does while a step lasts: joint moves through some postures, or standing at one. */
export interface ArmCourse {
  readonly body: ArmBody;
  readonly way: readonly Joints[];
}

/** A piece of a course, its elements grown by all that they move in it. */
interface Piece {
  readonly hulls: readonly RoundedHull[];
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

/** A course cut into stretches in which no point moves farther than `most` from the middle of its stretch. */
function piecesOf({ body, way }: ArmCourse, most: number): readonly Piece[] {
  const at = (joints: Joints, moves: readonly number[]): Piece => ({
    hulls: elementsAt(body, joints).map(({ hull }, i) => grown(hull, moves[i]!)),
  });
  if (way.length === 1)
    return [
      at(
        way[0]!,
        Array.from({ length: linkCount(body) + body.tool.length }, () => 0),
      ),
    ];
  return way.slice(1).flatMap((to, i) => {
    const from = way[i]!;
    const moves = motionBounds(body, from, to);
    const count = Math.max(1, Math.ceil(Math.max(...moves) / (2 * most)));
    return Array.from({ length: count }, (_, k) =>
      at(
        between(from, to, (k + 0.5) / count),
        moves.map((move) => move / (2 * count)),
      ),
    );
  });
}

const boxesOf = (course: ArmCourse): readonly Bounds[] => {
  const pieces = piecesOf(course, STRETCHES[0]!);
  return pieces[0]!.hulls.map((_, i) => boundsAround(pieces.map(({ hulls }) => hulls[i]!.bounds)));
};

/** Boxes around each element of courses, over the whole of them; worked out once. */
const BOXES = new WeakMap<ArmCourse, readonly Bounds[]>();

function boxes(course: ArmCourse): readonly Bounds[] {
  let known = BOXES.get(course);
  if (!known) BOXES.set(course, (known = boxesOf(course)));
  return known;
}

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
  const apart = boxes(a).every((one) => boxes(b).every((other) => boundsApart(one, other, -clearance)));
  return (
    apart ||
    stretches.some((most) =>
      piecesOf(b, most).every(
        ({ hulls }) =>
          keysMet(a.body, a.way, {
            obstacles: hulls.map((hull) => ({ hull, key: 0 })),
            least: clearance,
            fatal: () => true,
          }).size === 0,
      ),
    )
  );
}

import { hypotenuse } from '../base/hypotenuse.js';
import { dot, subtract, type Vec3 } from '../geometry/vector.js';
import type { PartSet } from '../base/part-set.js';
import { faceFrame } from '../model/part-geometry.js';
import type { Judged, Refusal } from '../model/verdict.js';
import type { Part } from '../model/weldment.js';
import { coveredPoints } from './grip-rank.js';
import type { Grip } from './grips.js';

/** What decides later between two places for the same gripper on the same face. */
interface Standing {
  readonly grip: Grip;
  /** From the centre of mass, along the axes of the face, mm. */
  readonly off: readonly [number, number];
  readonly covered: readonly boolean[];
}

/** Whether all pads of a plane are in use and lie alike to both sides of both axes, so that only the size of an offset counts, not its sign. */
const balanced = ({ gripper, group }: Grip): boolean =>
  gripper.kind !== 'jaw' &&
  group === undefined &&
  gripper.pads.every(([x, y]) =>
    [
      [-x, y],
      [x, -y],
    ].every(([p, q]) =>
      gripper.pads.some((pad) => Math.abs(pad[0] - p!) < 1e-6 && Math.abs(pad[1] - q!) < 1e-6),
    ),
  );

const subset = (a: PartSet, b: PartSet): boolean => a.every((word, i) => (word & ~b[i]!) === 0);

/** Whether one grip is nearer to the centre of mass than another along both axes, on the same side of it. */
const nearer = ({ off: a }: Standing, { off: b }: Standing): boolean =>
  [0, 1].every((axis) => {
    const [p, q] = [a[axis as 0 | 1], b[axis as 0 | 1]];
    return Math.abs(p) <= Math.abs(q) + 1e-6 && p * q >= -1e-6;
  }) && hypotenuse(a[0], a[1]) < hypotenuse(b[0], b[1]) - 1e-6;

function dominates(best: Standing, other: Standing, meets: (grip: Grip) => PartSet): boolean {
  const [a, b] = [best.grip, other.grip];
  if (a.gripper !== b.gripper || a.face !== b.face || a.turn !== b.turn) return false;
  const apart = hypotenuse(a.position[0] - b.position[0], a.position[1] - b.position[1]);
  return (
    apart < a.gripper.padDiameter / 2 &&
    nearer(best, other) &&
    best.covered.every((covered, i) => !covered || other.covered[i]!) &&
    subset(meets(a), meets(b))
  );
}

/**
 * Refuses grips that another one of the same gripper, face and turn beats in all that decides later: it is nearer to
 * the centre of mass along both axes (so its pads, which lie evenly, carry at least as much), covers no point of a seam
 * that the other leaves free, and meets nothing that the other does not: parts, table and keep-outs in place or drawn
 * back, the top it lies on at each of its rests. What the arm reaches is not looked at. So that it is hardly ever lost, only grips closer to each other than one pad radius are compared, and
 * none is dropped for one that is dropped itself; nor is one that is `spared`, because a wish names its place. `grips` come best first; `meets` tells what a gripper meets.
 */
export function dropDominated(
  part: Part,
  centre: Vec3,
  points: readonly Vec3[],
  grips: readonly Judged<Grip>[],
  meets: (grip: Grip) => PartSet,
  spared: (grip: Grip) => boolean = () => false,
): readonly Judged<Grip>[] {
  const kept: Standing[] = [];
  return grips.map((judged) => {
    const { candidate: grip, refusal } = judged;
    if (refusal || !balanced(grip) || spared(grip)) return judged;
    const frame = faceFrame(part.shape, grip.face);
    const foot = subtract(centre, frame.centre);
    const off = [grip.position[0] - dot(foot, frame.u), grip.position[1] - dot(foot, frame.v)] as const;
    const standing = { grip, off, covered: coveredPoints(part.shape, points, grip, grip.gripper) };
    const better = kept.find((best) => dominates(best, standing, meets));
    if (better === undefined) {
      kept.push(standing);
      return judged;
    }
    const at = better.grip.position.map((x) => Math.round(x * 10) / 10).join(', ');
    const dominated: Refusal = {
      code: 'dominated',
      subjects: [part.id, grip.gripper.id, grip.face, `the grip at ${at}`],
    };
    return { candidate: grip, refusal: dominated };
  });
}

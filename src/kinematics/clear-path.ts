import { boundsDistance } from '../geometry/bounds.js';
import { hullDistance, type RoundedHull } from '../geometry/rounded-hull.js';
import { sixOf, type Joints } from './arm.js';
import { elementsAt, motionBounds, type ArmBody, type ArmElement } from './arm-body.js';

/** Something that stands while an arm moves. Several may share a key: pieces of one thing. */
export interface Obstacle {
  readonly hull: RoundedHull;
  readonly key: number;
}

/** What is asked of a way: which elements must keep how far from which obstacles. */
export interface Clearance {
  readonly obstacles: readonly Obstacle[];
  /** mm, positive. */
  readonly least: number;
  /** Whether a pair counts; all pairs when absent. */
  readonly counts?: (element: number, obstacle: Obstacle) => boolean;
  /** Meeting an obstacle of such a key ends the question. */
  readonly fatal?: (key: number) => boolean;
}

interface Pair {
  readonly element: number;
  readonly obstacle: Obstacle;
}

/** A piece of the way whose longest motion is this, mm, is looked at first. */
const FIRST_LOOK = 160;
/** What cannot be shown clear where no point moves farther than this from the posture looked at, mm, counts as met. */
const FINEST = 0.5;

/** Joint values at a share of the way between two. */
export const between = (from: Joints, to: Joints, share: number): Joints =>
  sixOf((i) => from[i]! + (to[i]! - from[i]!) * share);

/**
 * Keys of the obstacles that an arm is not shown to keep clear of in joint moves through all of `way` in turn, a single
 * posture included. Between two postures no point of an element moves farther than the angles times the levers
 * (motionBounds), so that a stretch is clear when at its middle the distance exceeds the clearance by the motion of half
 * the stretch; else it is halved. The answer errs on the side of meeting, by at most FINEST mm of distance.
 */
export function keysMet(body: ArmBody, way: readonly Joints[], asked: Clearance): ReadonlySet<number> {
  const met = new Set<number>();
  const first = way[0];
  if (first === undefined) return met;
  const all = pairsOf(elementsAt(body, first).length, asked);
  if (way.length === 1) new Stretch(body, first, first, asked, met).judge(0, 0, all);
  for (let i = 1; i < way.length && !isOver(asked, met); i += 1) {
    const stretch = new Stretch(body, way[i - 1]!, way[i]!, asked, met);
    const count = Math.max(1, Math.ceil(stretch.longest / FIRST_LOOK));
    for (let k = 0; k < count; k += 1) stretch.judge(k / count, (k + 1) / count, all);
  }
  return met;
}

const isOver = ({ fatal }: Clearance, met: ReadonlySet<number>): boolean =>
  fatal !== undefined && met.size > 0 && [...met].some(fatal);

function pairsOf(elements: number, { obstacles, counts }: Clearance): readonly Pair[] {
  return Array.from({ length: elements }, (_, element) => element).flatMap((element) =>
    obstacles.flatMap((obstacle) => (counts && !counts(element, obstacle) ? [] : [{ element, obstacle }])),
  );
}

/** One joint move. */
class Stretch {
  /** mm that the element that moves farthest may move. */
  readonly longest: number;
  private readonly bounds: readonly number[];

  constructor(
    private readonly body: ArmBody,
    private readonly from: Joints,
    private readonly to: Joints,
    private readonly asked: Clearance,
    private readonly met: Set<number>,
  ) {
    this.bounds = motionBounds(body, from, to);
    this.longest = Math.max(...this.bounds);
  }

  /** Judges the pairs between two shares of the way; what is met goes to the set. */
  judge(low: number, high: number, pairs: readonly Pair[]): void {
    if (isOver(this.asked, this.met)) return;
    const middle = (low + high) / 2;
    const elements = elementsAt(this.body, between(this.from, this.to, middle));
    const open = pairs.filter((pair) => this.isOpen(pair, elements, (high - low) / 2));
    if (open.length === 0) return;
    this.judge(low, middle, open);
    this.judge(middle, high, open);
  }

  /** Whether a pair must be looked at more closely than at the middle of a stretch. */
  private isOpen({ element, obstacle }: Pair, elements: readonly ArmElement[], half: number): boolean {
    const { met, asked } = this;
    if (met.has(obstacle.key)) return false;
    const { hull } = elements[element]!;
    const moves = this.bounds[element]! * half;
    const enough = asked.least + moves;
    if (boundsDistance(hull.bounds, obstacle.hull.bounds) >= enough) return false;
    const apart = hullDistance(hull, obstacle.hull);
    if (apart >= enough) return false;
    if (apart >= asked.least && moves > FINEST) return true;
    met.add(obstacle.key);
    return false;
  }
}

import type { Bounds } from '../geometry/bounds.js';
import { apartness, type RoundedHull } from '../geometry/rounded-hull.js';
import { sixOf, type Joints } from './arm.js';
import { motionBounds, type ArmBody } from './arm-body.js';
import { ArmSample, type Ball } from './arm-sample.js';

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

/** Obstacles of each element that must still be looked at. */
type Open = readonly (readonly Obstacle[])[];

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
  const all = openAtFirst(new ArmSample(body, first).count, asked);
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

const openAtFirst = (elements: number, { obstacles, counts }: Clearance): Open =>
  Array.from({ length: elements }, (_, element) =>
    counts === undefined ? obstacles : obstacles.filter((obstacle) => counts(element, obstacle)),
  );

/** Distance from a ball to a box, mm; negative inside, by no more than the radius. */
function ballToBox({ centre: [x, y, z], radius }: Ball, { low, high }: Bounds): number {
  const dx = Math.max(0, low[0] - x, x - high[0]);
  const dy = Math.max(0, low[1] - y, y - high[1]);
  const dz = Math.max(0, low[2] - z, z - high[2]);
  return Math.sqrt(dx * dx + dy * dy + dz * dz) - radius;
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

  /** Judges what is open between two shares of the way; what is met goes to the set. */
  judge(low: number, high: number, open: Open): void {
    if (isOver(this.asked, this.met)) return;
    const middle = (low + high) / 2;
    const sample = new ArmSample(this.body, between(this.from, this.to, middle));
    const half = (high - low) / 2;
    const left = open.map((obstacles, element) =>
      obstacles.length === 0
        ? obstacles
        : obstacles.filter((obstacle) => this.isOpen(sample, element, obstacle, half)),
    );
    if (left.every((obstacles) => obstacles.length === 0)) return;
    this.judge(low, middle, left);
    this.judge(middle, high, left);
  }

  /** Whether an element and an obstacle must be looked at more closely than at the middle of a stretch. */
  private isOpen(sample: ArmSample, element: number, { key, hull }: Obstacle, half: number): boolean {
    const { met, asked } = this;
    if (met.has(key)) return false;
    const moves = this.bounds[element]! * half;
    const enough = asked.least + moves;
    if (ballToBox(sample.ball(element), hull.bounds) >= enough) return false;
    const apart = apartness(sample.hull(element), hull, asked.least, enough);
    if (apart === 'apart') return false;
    if (apart === 'between' && moves > FINEST) return true;
    met.add(key);
    return false;
  }
}

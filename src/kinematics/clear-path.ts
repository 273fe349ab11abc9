import { apartness, type RoundedHull } from '../geometry/rounded-hull.js';
import type { Vec3 } from '../geometry/vector.js';
import { sixOf, type Joints, type SixRow } from './arm.js';
import { leversOf, putBounds, putTurns, type ArmBody } from './arm-body.js';
import { ArmSample } from './arm-sample.js';

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
  /** Whether a pair counts, which is asked once for such a list; all pairs when absent. */
  readonly counts?: PairTest | undefined;
  /** Whether obstacles with such a key are looked at; all are when absent. */
  readonly among?: KeyTest | undefined;
  /** Meeting an obstacle of such a key ends the question. */
  readonly fatal?: KeyTest | undefined;
}

export type PairTest = (element: number, obstacle: Obstacle) => boolean;
export type KeyTest = (key: number) => boolean;

/** Pairs of an element and an obstacle, each as one number: see `pairOf`. */
type Pairs = readonly number[];
const NOTHING: Pairs = [];

/** A piece of the way whose longest motion is this, mm, is looked at first. */
const FIRST_LOOK = 400;
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
  const first = way[0];
  if (first === undefined) return new Set();
  const question = new Question(body, asked);
  if (way.length === 1) question.judgeMove(first, first);
  for (let i = 1; i < way.length && !question.isOver; i += 1) question.judgeMove(way[i - 1]!, way[i]!);
  return question.met;
}

/** An element and the place of an obstacle in its list, which is shorter than 65536, as one number. */
const PLACE_BITS = 16;
const PLACES = (1 << PLACE_BITS) - 1;
const pairOf = (element: number, place: number): number => (element << PLACE_BITS) | place;

/** A list of obstacles with the pairs that count, laid out for the inner loop. */
class Layout {
  /** Low and high corner of the box around each obstacle, in a row. */
  readonly boxes: Float64Array;
  private readonly pairs: Pairs[] = [];

  constructor(
    private readonly obstacles: readonly Obstacle[],
    private readonly counts: PairTest,
  ) {
    this.boxes = Float64Array.from(
      obstacles.flatMap(({ hull: { bounds } }) => [...bounds.low, ...bounds.high]),
    );
  }

  /** The pairs that count, of an arm with so many elements. */
  pairsOf(elements: number): Pairs {
    return (this.pairs[elements] ??= this.allPairs(elements));
  }

  private allPairs(elements: number): Pairs {
    const { obstacles, counts } = this;
    return Array.from({ length: elements }, (_, element) =>
      obstacles.flatMap((obstacle, place) => (counts(element, obstacle) ? [pairOf(element, place)] : [])),
    ).flat();
  }
}

/** By list and test, which serve for many questions; made once. */
const LAYOUTS = new WeakMap<readonly Obstacle[], WeakMap<PairTest, Layout>>();
const anyPair: PairTest = () => true;

function layoutOf({ obstacles, counts = anyPair }: Clearance): Layout {
  let ofList = LAYOUTS.get(obstacles);
  if (!ofList) LAYOUTS.set(obstacles, (ofList = new WeakMap()));
  let layout = ofList.get(counts);
  if (!layout) ofList.set(counts, (layout = new Layout(obstacles, counts)));
  return layout;
}

/** One of each body, for one question after the other. */
const SAMPLES = new WeakMap<ArmBody, ArmSample>();

function sampleOf(body: ArmBody): ArmSample {
  let sample = SAMPLES.get(body);
  if (!sample) SAMPLES.set(body, (sample = new ArmSample(body)));
  return sample;
}

/**
 * Room for the move that is looked at, as one question is answered after the other: how far the axes turn, how far each
 * element moves at most (mm), and a posture on the way.
 */
const TURNS: SixRow = [0, 0, 0, 0, 0, 0];
const BOUNDS: number[] = [];
const POSTURE: SixRow = [0, 0, 0, 0, 0, 0];
/** Stretches of that move in the order in which they are looked at: by their middles, as shares of it, and what is open in each. */
const MIDDLES: number[] = [];
const OPEN: Pairs[] = [];

function putStretch(place: number, middle: number, open: Pairs): void {
  MIDDLES[place] = middle;
  OPEN[place] = open;
}

/** How far a number is outside of a range. */
const outside = (value: number, low: number, high: number): number =>
  value < low ? low - value : value > high ? value - high : 0;

/** One question about an arm: what it has met so far, and along which direction things were last seen apart. */
class Question {
  readonly met = new Set<number>();
  /** Whether something was met that ends the question. */
  isOver = false;
  private readonly sample: ArmSample;
  private readonly layout: Layout;
  private readonly levers: Float64Array;
  /** By pair; a direction that parted two things once is likely to part them nearby. */
  private directions: Map<number, Vec3 | undefined> | undefined;

  constructor(
    private readonly body: ArmBody,
    private readonly asked: Clearance,
  ) {
    this.sample = sampleOf(body);
    this.layout = layoutOf(asked);
    this.levers = leversOf(body);
  }

  /** Looks at a move in stretches, then at halves of those that leave something open, and so on: what is near is soon met. */
  judgeMove(from: Joints, to: Joints): void {
    putTurns(this.body.arm, from, to, TURNS);
    const farthest = putBounds(this.levers, TURNS, BOUNDS);
    const first = Math.max(1, Math.ceil(farthest / FIRST_LOOK));
    const all = this.layout.pairsOf(this.sample.count);
    let count = 0;
    for (; count < first; count += 1) putStretch(count, (count + 0.5) / first, all);
    let half = 0.5 / first;
    for (let i = 0, levelEnd = count; i < count; i += 1) {
      if (this.isOver) return;
      if (i === levelEnd) {
        half /= 2;
        levelEnd = count;
      }
      const middle = MIDDLES[i]!;
      this.takePosture(from, to, middle);
      const left = this.stillOpen(OPEN[i]!, half);
      if (left.length === 0) continue;
      putStretch(count, middle - half / 2, left);
      putStretch(count + 1, middle + half / 2, left);
      count += 2;
    }
  }

  private takePosture(from: Joints, to: Joints, share: number): void {
    for (let i = 0; i < 6; i += 1) POSTURE[i] = from[i]! + (to[i]! - from[i]!) * share;
    this.sample.take(POSTURE);
  }

  /**
   * What of the open pairs must be looked at more closely than in the middle of a stretch; what is met goes to the set.
   * The balls around elements answer most, some millions of times a plan: written out, pairs of one element in a row.
   */
  private stillOpen(open: Pairs, half: number): Pairs {
    const { sample } = this;
    const { boxes } = this.layout;
    const { least } = this.asked;
    let left: number[] | undefined;
    let element = -1;
    let x = 0;
    let y = 0;
    let z = 0;
    let radius = 0;
    let crude = 0;
    for (let i = 0; i < open.length; i += 1) {
      const pair = open[i]!;
      if (pair >> PLACE_BITS !== element) {
        element = pair >> PLACE_BITS;
        const ball = sample.ball(element);
        x = ball[4 * element]!;
        y = ball[4 * element + 1]!;
        z = ball[4 * element + 2]!;
        radius = ball[4 * element + 3]!;
        // No point of the element moves farther from here to the ends of the stretch, by the longest levers.
        crude = BOUNDS[element]! * half;
      }
      const at = 6 * (pair & PLACES);
      const dx = outside(x, boxes[at]!, boxes[at + 3]!);
      const dy = outside(y, boxes[at + 1]!, boxes[at + 4]!);
      const dz = outside(z, boxes[at + 2]!, boxes[at + 5]!);
      const apart = Math.sqrt(dx * dx + dy * dy + dz * dz) - radius - least;
      if (apart < crude && this.isOpen(pair, apart, crude, half)) (left ??= []).push(pair);
    }
    return left ?? NOTHING;
  }

  /** The same for one pair whose element may move, as a ball, farther than it is apart from the obstacle's box. */
  private isOpen(pair: number, apart: number, crude: number, half: number): boolean {
    const { met, asked, sample } = this;
    const element = pair >> PLACE_BITS;
    const { key, hull } = asked.obstacles[pair & PLACES]!;
    if (met.has(key) || asked.among?.(key) === false) return false;
    // By the levers as they are here, which grow on the way by no more than the element moves.
    const moves = Math.min(crude, sample.wayByLevers(element, TURNS, crude) * half);
    if (apart >= moves) return false;
    // At the finest no guess will do: what is not shown apart counts as met.
    const guess = moves > FINEST ? this.directions?.get(pair) : undefined;
    const found = apartness(sample.hull(element), hull, asked.least, asked.least + moves, guess);
    (this.directions ??= new Map()).set(pair, found.direction);
    if (found.kind === 'apart') return false;
    if (found.kind === 'between' && moves > FINEST) return true;
    this.meet(key);
    return false;
  }

  private meet(key: number): void {
    this.met.add(key);
    this.isOver ||= this.asked.fatal?.(key) === true;
  }
}

import type { Bounds } from '../geometry/bounds.js';
import { apartness, type RoundedHull } from '../geometry/rounded-hull.js';
import type { Vec3 } from '../geometry/vector.js';
import { sixOf, type Joints, type Six } from './arm.js';
import { linkCount, motionBounds, turnsBetween, type ArmBody } from './arm-body.js';
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

/** For each element the places, in the list of obstacles, of those that must still be looked at. */
type Open = readonly (readonly number[])[];

/** A stretch of a joint move by shares of it, and what must still be looked at there. */
interface Stretch {
  readonly middle: number;
  readonly half: number;
  readonly open: Open;
}

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

/** Distance from a ball to a box, mm; negative inside, by no more than the radius. */
function ballToBox({ centre: [x, y, z], radius }: Ball, { low, high }: Bounds): number {
  const dx = Math.max(0, low[0] - x, x - high[0]);
  const dy = Math.max(0, low[1] - y, y - high[1]);
  const dz = Math.max(0, low[2] - z, z - high[2]);
  return Math.sqrt(dx * dx + dy * dy + dz * dz) - radius;
}

/** One question about an arm: what it has met so far, and along which direction things were last seen apart. */
class Question {
  readonly met = new Set<number>();
  private readonly all: Open;
  /** By element and obstacle; a direction that parted two things once is likely to part them nearby. */
  private readonly directions: (Vec3 | undefined)[] = [];

  constructor(
    private readonly body: ArmBody,
    private readonly asked: Clearance,
  ) {
    const { obstacles, counts } = asked;
    const elements = linkCount(body) + body.tool.length;
    const places = obstacles.map((_, place) => place);
    this.all = Array.from({ length: elements }, (_, element) =>
      counts === undefined ? places : places.filter((place) => counts(element, obstacles[place]!)),
    );
  }

  /** Whether something was met that ends the question. */
  get isOver(): boolean {
    const { fatal } = this.asked;
    return fatal !== undefined && this.met.size > 0 && [...this.met].some(fatal);
  }

  /** Looks at a move in stretches, then at halves of those that leave something open, and so on: what is near is soon met. */
  judgeMove(from: Joints, to: Joints): void {
    const move = new JointMove(this.body, from, to);
    const count = Math.max(1, Math.ceil(move.longest / FIRST_LOOK));
    let level: readonly Stretch[] = Array.from({ length: count }, (_, k) => ({
      middle: (k + 0.5) / count,
      half: 0.5 / count,
      open: this.all,
    }));
    while (level.length > 0) level = level.flatMap((stretch) => this.halves(move, stretch));
  }

  /** Judges what is open in a stretch; what is met goes to the set, and what stays open is told of both halves. */
  private halves(move: JointMove, { middle, half, open }: Stretch): readonly Stretch[] {
    if (this.isOver) return [];
    const sample = move.sampleAt(middle, half);
    const left = open.map((places, element) =>
      places.length === 0 ? places : places.filter((place) => this.isOpen(sample, element, place)),
    );
    if (left.every((places) => places.length === 0)) return [];
    return [-half / 2, half / 2].map((by) => ({ middle: middle + by, half: half / 2, open: left }));
  }

  /** Whether an element and an obstacle must be looked at more closely than at the middle of a stretch. */
  private isOpen(sample: MoveSample, element: number, place: number): boolean {
    const { met, asked, directions } = this;
    const { key, hull } = asked.obstacles[place]!;
    if (met.has(key)) return false;
    const apart = ballToBox(sample.ball(element), hull.bounds) - asked.least;
    if (apart >= sample.crudeBound(element)) return false;
    const moves = sample.bound(element);
    if (apart >= moves) return false;
    const pair = place * this.all.length + element;
    // At the finest no guess will do: what is not shown apart counts as met.
    const guess = moves > FINEST ? directions[pair] : undefined;
    const found = apartness(sample.hull(element), hull, asked.least, asked.least + moves, guess);
    directions[pair] = found.direction;
    if (found.kind === 'apart') return false;
    if (found.kind === 'between' && moves > FINEST) return true;
    met.add(key);
    return false;
  }
}

/** One joint move: how far its elements move at most, and samples of it. */
class JointMove {
  /** mm that the element that moves farthest may move. */
  readonly longest: number;
  private readonly bounds: readonly number[];
  private readonly turns: Six<number>;

  constructor(
    private readonly body: ArmBody,
    private readonly from: Joints,
    private readonly to: Joints,
  ) {
    this.bounds = motionBounds(body, from, to);
    this.turns = turnsBetween(body.arm, from, to);
    this.longest = Math.max(...this.bounds);
  }

  /** The arm at a share of the move, with what its elements move until half a stretch (a share) before or after. */
  sampleAt(share: number, half: number): MoveSample {
    return new MoveSample(this.body, between(this.from, this.to, share), this.bounds, this.turns, half);
  }
}

/** An arm in the middle of a stretch of a joint move. */
class MoveSample extends ArmSample {
  private readonly found: (number | undefined)[] = [];

  constructor(
    body: ArmBody,
    joints: Joints,
    private readonly bounds: readonly number[],
    private readonly turns: Six<number>,
    private readonly half: number,
  ) {
    super(body, joints);
  }

  /** mm that no point of an element moves farther than from the middle of the stretch to its ends, by the longest levers. */
  crudeBound(element: number): number {
    return this.bounds[element]! * this.half;
  }

  /** The same by the levers as they are here, which grow on the way by no more than the element moves. */
  bound(element: number): number {
    return (this.found[element] ??= this.boundByLevers(element));
  }

  private boundByLevers(element: number): number {
    const crude = this.crudeBound(element);
    const sum = this.levers(element).reduce((total, lever, i) => total + this.turns[i]! * (lever + crude), 0);
    return Math.min(crude, sum * this.half);
  }
}

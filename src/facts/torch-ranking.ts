import { Heap } from '../algorithms/heap.js';
import { compose, inverse, multiply, rotate, translate, turnAbout, type Pose } from '../geometry/pose.js';
import { scale, type Vec3 } from '../geometry/vector.js';
import type { Joints, SixRow } from '../kinematics/arm.js';
import { eachBranch, putBranch } from '../kinematics/inverse.js';
import { turnedNearJoints } from '../kinematics/limits.js';
import { MARGIN_GRAIN, poseMargin } from '../kinematics/pose-margin.js';
import { DEFAULT_WRIST_MARGIN } from '../kinematics/reach.js';
import type { Welder } from '../model/cell.js';
import type { TorchWay } from './torch-ways.js';

/** Turns about the wire that are tried, degrees: 0, 30, -30, 60, ..., the least turn from the seam first. */
export const ROLLS: readonly number[] = Array.from(
  { length: 12 },
  (_, i) => Math.ceil(i / 2) * (i % 2 === 0 ? -1 : 1) * 30,
);

const ROLL_TURNS = ROLLS.map((degrees) => turnAbout([0, 0, 1], (degrees * Math.PI) / 180));

/** The wire tip at the ends of a tack and drawn back from both, after roll; cell frame, or the flange in that of the arm. */
export interface TorchPoses {
  readonly clear: Pose;
  readonly start: Pose;
  readonly end: Pose;
  readonly leave: Pose;
}

/** A way for the torch with a turn about the wire and a branch of the arm, not yet followed along its strokes. */
export interface TorchCandidate {
  readonly way: TorchWay;
  /** Place in `ROLLS`. */
  readonly roll: number;
  /** 0 to 7, as inverseBranches numbers them. */
  readonly branch: number;
  /** At the start of the tack. */
  readonly joints: Joints;
  /** Least distance to a limit and to a wrist too little bent at the four poses, in tenths of a degree. */
  readonly margin: number;
}

/** What is ranked before its margin at all four poses is known, as one number: see `codeOf`. */
type Code = number;

const BRANCHES = 8;
/** No margin is larger, tenths of a degree: the wrist bends by less than half a turn. */
const MOST = 1800;
const POSTURES = 2 ** 24;

/**
 * A number that is less for the better candidate: the larger margin at the start, then the way nearer to the
 * bisector, the lesser turn, the lower branch.
 */
const codeOf = (margin: number, place: number, roll: number, branch: number): Code =>
  (MOST - margin) * POSTURES + (place * ROLLS.length + roll) * BRANCHES + branch;

/** Room for the joints of the pose that is looked at. */
const SOLVED: SixRow = [0, 0, 0, 0, 0, 0];

interface Measured extends TorchCandidate {
  readonly code: Code;
}

const tenths = (radians: number): number => Math.round(radians / MARGIN_GRAIN);

/** Poses of the wire tip for a way and a turn about the wire, the torch drawn back by `stroke` mm. */
export function tipPoses({ start, end }: TorchWay, roll: number, stroke: number): TorchPoses {
  const turn = multiply(start.turn, ROLL_TURNS[roll]!);
  const back: Vec3 = scale(rotate(turn, [0, 0, 1]), -stroke);
  const [first, last] = [
    { at: start.at, turn },
    { at: end.at, turn },
  ];
  return { clear: translate(first, back), start: first, end: last, leave: translate(last, back) };
}

/** Flange poses, in the base frame of the arm, of poses of the wire tip. */
export class TorchFlange {
  private readonly toBase: Pose;
  private readonly toFlange: Pose;

  constructor(welder: Welder) {
    this.toBase = inverse(welder.base);
    this.toFlange = inverse(welder.torch.tip);
  }

  of(tip: Pose): Pose {
    return compose(this.toBase, compose(tip, this.toFlange));
  }
}

/**
 * Every way, turn about the wire and branch by which an arm may lay one tack, the largest margin first; equal ones by
 * how far the torch is off the bisector, by turn and by branch. The margin at the start of the tack bounds that of all
 * four poses from above, so these are worked out only as far as they are asked for.
 */
export class TorchRanking {
  private readonly ranked: TorchCandidate[] = [];
  /** Margins at the start only, best first, and how many of them were taken. */
  private bounds: Float64Array | undefined;
  private taken = 0;
  /** Margins at all four poses of those taken that are not ranked yet. */
  private readonly measured = new Heap<Measured>((a, b) => a.code - b.code);
  private readonly flange: TorchFlange;

  constructor(
    private readonly welder: Welder,
    private readonly ways: readonly TorchWay[],
    private readonly stroke: number,
  ) {
    this.flange = new TorchFlange(welder);
  }

  /** The candidate at a place of the ranking, from 0; undefined after the last. */
  at(place: number): TorchCandidate | undefined {
    while (this.ranked.length <= place) {
      const next = this.next();
      if (next === undefined) return undefined;
      this.ranked.push(next);
    }
    return this.ranked[place];
  }

  private next(): TorchCandidate | undefined {
    this.bounds ??= this.startBounds();
    while (this.taken < this.bounds.length) {
      const best = this.measured.peek();
      if (best !== undefined && best.code < this.bounds[this.taken]!) break;
      this.measure(this.bounds[this.taken]!);
      this.taken += 1;
    }
    return this.measured.pop();
  }

  private startBounds(): Float64Array {
    const { arm } = this.welder;
    const codes: Code[] = [];
    for (let place = 0; place < this.ways.length; place += 1)
      for (let roll = 0; roll < ROLLS.length; roll += 1)
        eachBranch(arm, this.startFlange(place, roll), (branch, joints) => {
          const margin = poseMargin(arm, joints, DEFAULT_WRIST_MARGIN);
          if (margin >= 0) codes.push(codeOf(tenths(margin), place, roll, branch));
        });
    return Float64Array.from(codes).sort();
  }

  private startFlange(place: number, roll: number): Pose {
    const { at, turn } = this.ways[place]!.start;
    return this.flange.of({ at, turn: multiply(turn, ROLL_TURNS[roll]!) });
  }

  /** Keeps a candidate with its least margin at all four poses, unless one of them is not taken in its branch. */
  private measure(code: Code): void {
    const { arm } = this.welder;
    const posture = code % POSTURES;
    const branch = posture % BRANCHES;
    const roll = Math.floor(posture / BRANCHES) % ROLLS.length;
    const place = Math.floor(posture / BRANCHES / ROLLS.length);
    const way = this.ways[place]!;
    const { clear, end, leave } = tipPoses(way, roll, this.stroke);
    if (!putBranch(arm, this.startFlange(place, roll), branch, SOLVED)) return;
    const joints: Joints = [...SOLVED];
    let least = poseMargin(arm, joints, DEFAULT_WRIST_MARGIN);
    for (const tip of [end, clear, leave]) {
      if (!putBranch(arm, this.flange.of(tip), branch, SOLVED)) return;
      const near = turnedNearJoints(SOLVED, joints);
      least = Math.min(least, poseMargin(arm, near, DEFAULT_WRIST_MARGIN));
      if (least < 0) return;
    }
    const margin = tenths(least);
    this.measured.push({ way, roll, branch, joints, margin, code: codeOf(margin, place, roll, branch) });
  }
}

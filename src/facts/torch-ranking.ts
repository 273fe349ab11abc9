import { Heap } from '../algorithms/heap.js';
import { compose, inverse, multiply, rotate, translate, turnAbout, type Pose } from '../geometry/pose.js';
import { scale, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { inverseBranch, inverseBranches } from '../kinematics/inverse.js';
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

interface Waiting extends TorchCandidate {
  /** Place of the way in the order of the site. */
  readonly place: number;
  /** Whether the margin is of all four poses; that of the start alone is never less. */
  readonly whole: boolean;
}

/** The largest margin first, equal ones by how far the torch is off the bisector, by turn and by branch. */
const compare = (a: Waiting, b: Waiting): number =>
  b.margin - a.margin ||
  Number(a.whole) - Number(b.whole) ||
  a.place - b.place ||
  a.roll - b.roll ||
  a.branch - b.branch;

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
 * Every way, turn about the wire and branch by which an arm may lay one tack, the largest margin first. Margins at
 * the start of the tack bound the others from above, so the rest is worked out only as far as it is asked for.
 */
export class TorchRanking {
  private readonly ranked: TorchCandidate[] = [];
  private waiting: Heap<Waiting> | undefined;
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
    this.waiting ??= this.started();
    for (;;) {
      const best = this.waiting.pop();
      if (best === undefined || best.whole) return best;
      const margin = this.wholeMargin(best);
      if (margin >= 0) this.waiting.push({ ...best, margin: tenths(margin), whole: true });
    }
  }

  /** Every candidate with its margin at the start of the tack. */
  private started(): Heap<Waiting> {
    const heap = new Heap(compare);
    const { arm } = this.welder;
    this.ways.forEach((way, place) => {
      ROLLS.forEach((_, roll) => {
        const tip = { at: way.start.at, turn: multiply(way.start.turn, ROLL_TURNS[roll]!) };
        for (const { index, joints } of inverseBranches(arm, this.flange.of(tip))) {
          const margin = poseMargin(arm, joints, DEFAULT_WRIST_MARGIN);
          if (margin >= 0)
            heap.push({
              ...{ way, place, roll, branch: index, joints, margin: tenths(margin), whole: false },
            });
        }
      });
    });
    return heap;
  }

  /** The least margin at all four poses, radians; negative where one of them is not taken. */
  private wholeMargin({ way, roll, branch, joints }: Waiting): number {
    const { arm } = this.welder;
    const { clear, end, leave } = tipPoses(way, roll, this.stroke);
    let least = poseMargin(arm, joints, DEFAULT_WRIST_MARGIN);
    for (const tip of [end, clear, leave]) {
      const solved = inverseBranch(arm, this.flange.of(tip), branch);
      if (!solved.ok) return -1;
      const near = turnedNearJoints(solved.value.joints, joints);
      least = Math.min(least, poseMargin(arm, near, DEFAULT_WRIST_MARGIN));
      if (least < 0) return -1;
    }
    return least;
  }
}

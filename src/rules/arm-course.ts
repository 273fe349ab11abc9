import { diagonal } from '../base/hypotenuse.js';
import { boundsAround, type Bounds } from '../geometry/bounds.js';
import { placePiece, type ConvexPiece } from '../geometry/convex.js';
import { compose } from '../geometry/pose.js';
import type { RoundedHull } from '../geometry/rounded-hull.js';
import { forearmLength, sixOf, type Joints, type Six, type SixRow } from '../kinematics/arm.js';
import { LINKS, putTurns, type ArmBody } from '../kinematics/arm-body.js';
import { elementsAt } from '../kinematics/arm-sample.js';
import { forward } from '../kinematics/forward.js';

/** Something convex whose place is known at every moment of a step; `at` runs from 0 to `legs`. */
export interface Mover {
  readonly name: string;
  /** 0 for what stands. */
  readonly legs: number;
  /** Box around all of its places. */
  readonly box: Bounds;
  hull(at: number): RoundedHull;
  /** The same as a convex piece; undefined for a link, which is round. */
  piece(at: number): ConvexPiece | undefined;
  /** No point of it gets farther than this from where it is at either end, mm: whole legs, or a share of one. */
  travel(from: number, to: number): number;
}

/** A piece of what is fixed to the flange, in the flange frame. */
export interface LoadPiece {
  readonly name: string;
  readonly piece: ConvexPiece;
  /** Whether it is of the part that is carried. */
  readonly carried: boolean;
}

/** An arm with what is fixed to its flange. */
export interface LoadedArm {
  readonly body: ArmBody;
  readonly load: readonly LoadPiece[];
}

/** For its boxes a leg is divided until it bows by no more than this from a straight line, mm. */
const BOX_BOW = 30;

/** How many joints, from the base, move an element, and the longest way from their axes to a point of it, mm. */
interface Lever {
  readonly joints: number;
  readonly length: number;
}

function leversOf({ arm, radii, tool }: ArmBody): readonly Lever[] {
  const toElbow = Math.hypot(arm.a1, arm.b) + arm.c2;
  const toWrist = toElbow + forearmLength(arm);
  const toFlange = toWrist + arm.c4;
  const wrist: Lever = { joints: 5, length: toFlange };
  return [
    { joints: 1, length: Math.hypot(arm.a1, arm.b) },
    { joints: 2, length: toElbow },
    { joints: 3, length: toWrist },
    wrist,
    ...(radii.dressPack === undefined ? [] : [wrist]),
    ...tool.map(({ points }) => ({
      joints: 6,
      length: toFlange + Math.max(...points.map((point) => Math.hypot(...point))),
    })),
  ];
}

/** The farthest that a point of one hull is from the same point of the other, mm; of hulls made of the same points. */
function farthestMoved({ coordinates: a }: RoundedHull, { coordinates: b }: RoundedHull): number {
  let most = 0;
  for (let i = 0; i < a.length; i += 3)
    most = Math.max(most, diagonal(a[i]! - b[i]!, a[i + 1]! - b[i + 1]!, a[i + 2]! - b[i + 2]!));
  return most;
}

const grown = ({ low, high }: Bounds, by: number): Bounds => ({
  low: [low[0] - by, low[1] - by, low[2] - by],
  high: [high[0] + by, high[1] + by, high[2] + by],
});

/**
 * An arm on its way through postures, each joint turning evenly from one to the next. Between two moments of one leg a
 * point p of the arm leaves the straight line between its two places by at most max |p''| / 8 of the time squared, and
 * |p''| is at most the square of the sum of the joint speeds times the longest way from a joint axis to p, since each
 * second derivative of p by two joints is one such way turned square to axes. So what is seen at moments bounds what is
 * between them: by how far each point has come, and by that bow.
 */
export class ArmCourse {
  readonly legs: number;
  /** One for each link, then one for each piece of the load. */
  readonly movers: readonly Mover[];
  private readonly levers: readonly Lever[];
  private readonly seen = new Map<number, readonly RoundedHull[]>();
  private readonly boxes = new Map<number, Bounds>();
  private readonly legTurns: Six<number>[] = [];
  private readonly linkCount: number;
  private wholeBox: Bounds | undefined;

  constructor(
    private readonly loaded: LoadedArm,
    /** Postures from the start to the end, each joint turning evenly from one to the next. */
    readonly way: readonly Joints[],
  ) {
    this.legs = way.length - 1;
    this.levers = leversOf(loaded.body);
    this.linkCount = this.levers.length - loaded.load.length;
    this.movers = this.levers.map((_, element) => this.mover(element));
  }

  isLink(element: number): boolean {
    return element < this.linkCount;
  }

  /** What is fixed to the flange. */
  get load(): readonly LoadPiece[] {
    return this.loaded.load;
  }

  /** The load piece of an element that is no link. */
  loadPiece(element: number): LoadPiece | undefined {
    return this.loaded.load[element - this.linkCount];
  }

  /** Box around everything. */
  get box(): Bounds {
    this.wholeBox ??= boundsAround(this.movers.map(({ box }) => box));
    return this.wholeBox;
  }

  private mover(element: number): Mover {
    const { legs } = this;
    const boxOf = (): Bounds => this.boxOf(element);
    return {
      name: this.loadPiece(element)?.name ?? LINKS[element]!,
      legs,
      get box() {
        return boxOf();
      },
      hull: (at) => this.hulls(at)[element]!,
      piece: (at) => this.pieceAt(element, at),
      travel: (from, to) => this.travel(element, from, to),
    };
  }

  private joints(at: number): Joints {
    const leg = Math.min(Math.floor(at), this.legs - 1);
    if (leg < 0) return this.way[0]!;
    const [from, to] = [this.way[leg]!, this.way[leg + 1]!];
    return sixOf((i) => from[i]! + (to[i]! - from[i]!) * (at - leg));
  }

  private hulls(at: number): readonly RoundedHull[] {
    let hulls = this.seen.get(at);
    if (hulls === undefined) {
      hulls = elementsAt(this.loaded.body, this.joints(at)).map(({ hull }) => hull);
      this.seen.set(at, hulls);
    }
    return hulls;
  }

  private pieceAt(element: number, at: number): ConvexPiece | undefined {
    const own = this.loadPiece(element)?.piece;
    const { base, arm } = this.loaded.body;
    return own && placePiece(own, compose(base, forward(arm, this.joints(at))));
  }

  /** How far a point of an element bows from a straight line between two moments of one leg, mm. */
  private bow(element: number, from: number, to: number): number {
    const { joints, length } = this.levers[element]!;
    const turns = this.turns(from, to);
    let turned = 0;
    for (let i = 0; i < joints; i += 1) turned += turns[i]!;
    return (turned * turned * length) / 8;
  }

  /** By how much each axis turns between two moments of one leg, radians; of whole legs, which each element asks for, once. */
  private turns(from: number, to: number): Six<number> {
    const isWhole = to - from === 1;
    const known = isWhole ? this.legTurns[from] : undefined;
    if (known) return known;
    const turns: SixRow = [0, 0, 0, 0, 0, 0];
    putTurns(this.loaded.body.arm, this.joints(from), this.joints(to), turns);
    if (isWhole) this.legTurns[from] = turns;
    return turns;
  }

  private travel(element: number, from: number, to: number): number {
    if (to <= from) return 0;
    let sum = 0;
    for (let at = from; at < to; at = Math.floor(at) + 1) {
      const end = Math.min(to, Math.floor(at) + 1);
      const moved = farthestMoved(this.hulls(at)[element]!, this.hulls(end)[element]!);
      sum += moved + this.bow(element, at, end);
    }
    return sum;
  }

  private boxOf(element: number): Bounds {
    let box = this.boxes.get(element);
    if (box === undefined) {
      box = this.boxAnew(element);
      this.boxes.set(element, box);
    }
    return box;
  }

  private boxAnew(element: number): Bounds {
    const found: Bounds[] = [this.hulls(0)[element]!.bounds];
    for (let leg = 0; leg < this.legs; leg += 1) {
      const whole = this.bow(element, leg, leg + 1);
      const count = 2 ** Math.max(0, Math.ceil(Math.log2(Math.sqrt(whole / BOX_BOW))));
      const bow = whole / (count * count);
      const places = Array.from(
        { length: count + 1 },
        (_, k) => this.hulls(leg + k / count)[element]!.bounds,
      );
      found.push(grown(boundsAround(places), bow));
    }
    return boundsAround(found);
  }
}

/** Something that stands, as a mover. */
export function standing(name: string, piece: ConvexPiece): Mover {
  const { coordinates, bounds } = piece;
  const hull: RoundedHull = { coordinates, bounds, radius: 0 };
  return { name, legs: 0, box: bounds, hull: () => hull, piece: () => piece, travel: () => 0 };
}

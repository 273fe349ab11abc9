import type { Frame, FrameBar } from '../model/frame.js';
import { roundTackForce } from '../mechanics/round-tacks.js';
import { outlineOf, stands, type Piece } from './frame-standing.js';

/** What stands while some bars are in place. */
interface Standing {
  /** Index into `pieces` of the piece that a node belongs to, -1 for none. */
  readonly pieceOf: Int32Array;
  readonly pieces: readonly Piece[];
  readonly alone: readonly boolean[];
  /** How many bars in place end at each node, and the last of them. */
  readonly degree: Int32Array;
  readonly barAt: Int32Array;
  readonly unstable: number;
  readonly hanging: number;
  /** What `heldWith` said of each bar; -1 where it was not asked. */
  readonly answers: Int32Array;
}

/**
 * What must stay held after bars joined. Each connected piece is one rigid body: tacks that carried their bar when it
 * was let go are taken to hold. Held are pieces that do not stand on their feet, and bars that hang on the tacks of one
 * end which do not carry them.
 */
export class FrameStates {
  /** Whether the tacks of one end carry a bar whose other end is free. */
  private readonly carried: readonly boolean[];
  /** Every bar as a piece without feet. */
  private readonly single: readonly Piece[];
  private known: { readonly set: Uint32Array; readonly standing: Standing } | undefined;

  constructor(private readonly frame: Frame) {
    this.carried = frame.bars.map((bar) => oneEndCarries(frame, bar));
    this.single = frame.bars.map((_, bar) => pieceOfBar(frame, bar));
  }

  /** Whether a bar may join: it ends on the table or on a bar in place. */
  reaches(set: Uint32Array, bar: number): boolean {
    const { degree } = this.standing(set);
    return this.frame.bars[bar]!.ends.some((node) => this.frame.nodes[node]!.grounded || degree[node]! > 0);
  }

  /** Whether the finished frame needs nobody to hold it. */
  finishedStands(): boolean {
    const { bars } = this.frame;
    const all = new Uint32Array(Math.ceil(bars.length / 32)).fill(0xffffffff);
    const { unstable, hanging } = this.found(all);
    return unstable + hanging === 0;
  }

  /** How many pieces and bars must stay held once a bar has joined those in place. */
  heldWith(set: Uint32Array, bar: number): number {
    const standing = this.standing(set);
    if (standing.answers[bar]! < 0) standing.answers[bar] = this.held(standing, bar);
    return standing.answers[bar]!;
  }

  private held(standing: Standing, bar: number): number {
    const ends = this.frame.bars[bar]!.ends;
    const touched = [...new Set(ends.map((node) => standing.pieceOf[node]!).filter((piece) => piece >= 0))];
    const before = touched.reduce((sum, piece) => sum + (standing.alone[piece]! ? 0 : 1), 0);
    const after = stands(this.frame, this.merged(standing, touched, bar)) ? 0 : 1;
    return standing.unstable - before + after + this.hangingWith(standing, bar);
  }

  private hangingWith({ degree, barAt, hanging }: Standing, bar: number): number {
    const { bars } = this.frame;
    const [u, v] = bars[bar]!.ends;
    const added = (node: number): number => degree[node]! + (node === u || node === v ? 1 : 0);
    let count = hanging + (this.hangs(bar, added) ? 1 : 0);
    for (const node of [u, v]) {
      if (degree[node] !== 1) continue;
      const other = barAt[node]!;
      count += (this.hangs(other, added) ? 1 : 0) - (this.hangs(other, (n) => degree[n]!) ? 1 : 0);
    }
    return count;
  }

  /** Whether a bar is joined at one end, free at the other, and too heavy for its tacks. */
  private hangs(bar: number, degree: (node: number) => number): boolean {
    if (this.carried[bar]!) return false;
    const [u, v] = this.frame.bars[bar]!.ends;
    const free = (node: number): boolean => degree(node) === 1 && !this.frame.nodes[node]!.grounded;
    return (degree(u) > 1 && free(v)) || (degree(v) > 1 && free(u));
  }

  private merged({ pieces, degree }: Standing, touched: readonly number[], bar: number): Piece {
    const { frame } = this;
    const newFeet = frame.bars[bar]!.ends.filter((node) => frame.nodes[node]!.grounded && degree[node] === 0);
    const parts = touched.map((piece) => pieces[piece]!);
    const same = parts.length === 1 && newFeet.length === 0;
    const feet = same
      ? parts[0]!.feet
      : [...parts.flatMap((one) => one.feet), ...newFeet].sort((a, b) => a - b);
    return together([...parts, this.single[bar]!], feet, same ? parts[0]!.outline : outlineOf(frame, feet));
  }

  private standing(set: Uint32Array): Standing {
    const { known } = this;
    if (known?.set.every((word, i) => word === set[i]) === true) return known.standing;
    const standing = this.found(set);
    this.known = { set: set.slice(0, Math.ceil(this.frame.bars.length / 32)), standing };
    return standing;
  }

  private found(set: Uint32Array): Standing {
    const { frame } = this;
    const { bars, nodes } = frame;
    const degree = new Int32Array(nodes.length);
    const barAt = new Int32Array(nodes.length).fill(-1);
    const inPlace = bars.flatMap((_, bar) => (isIn(set, bar) ? [bar] : []));
    for (const bar of inPlace)
      for (const node of bars[bar]!.ends) {
        degree[node]! += 1;
        barAt[node] = bar;
      }
    const { pieceOf, pieces } = piecesOf(frame, inPlace, this.single);
    const alone = pieces.map((piece) => stands(frame, piece));
    return {
      ...{ pieceOf, pieces, alone, degree, barAt, answers: new Int32Array(bars.length).fill(-1) },
      unstable: alone.filter((one) => !one).length,
      hanging: inPlace.filter((bar) => this.hangs(bar, (node) => degree[node]!)).length,
    };
  }
}

export const isIn = (set: Uint32Array, bar: number): boolean => ((set[bar >>> 5]! >>> (bar & 31)) & 1) === 1;

/** Weight on the tacks of one end, and a push at the other end on top, against what the worst of them holds. */
function oneEndCarries(frame: Frame, { ends, length, weight }: FrameBar): boolean {
  const { choices, nodes, tackStrength, foot } = frame;
  const [a, b] = [nodes[ends[0]]!.point, nodes[ends[1]]!.point];
  const flat = Math.hypot(a[0] - b[0], a[1] - b[1]);
  const grown = choices['gravity-reserve'] * weight;
  const push = choices['push-reserve'] * choices['push-share'] * weight;
  const moment = (grown * flat) / 2 + push * length;
  return roundTackForce(moment, grown + push, foot, choices.tacks) <= tackStrength;
}

function pieceOfBar(frame: Frame, bar: number): Piece {
  const { ends, middle, weight } = frame.bars[bar]!;
  const heights = ends.map((node) => frame.nodes[node]!.point[2] - frame.table);
  return {
    ...{ weight, momentX: weight * middle[0], momentY: weight * middle[1] },
    ...{ height: Math.max(...heights), feet: [], outline: [] },
  };
}

function piecesOf(
  frame: Frame,
  inPlace: readonly number[],
  single: readonly Piece[],
): { readonly pieceOf: Int32Array; readonly pieces: readonly Piece[] } {
  const root = Int32Array.from(frame.nodes, (_, i) => i);
  const find = (node: number): number => {
    let at = node;
    while (root[at] !== at) at = root[at] = root[root[at]!]!;
    return at;
  };
  for (const bar of inPlace) root[find(frame.bars[bar]!.ends[0])] = find(frame.bars[bar]!.ends[1]);
  const groups = new Map<number, number[]>();
  for (const bar of inPlace) {
    const key = find(frame.bars[bar]!.ends[0]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [bar]);
    else group.push(bar);
  }
  const pieceOf = new Int32Array(frame.nodes.length).fill(-1);
  const pieces = [...groups.values()].map((bars, piece) => {
    for (const bar of bars) for (const node of frame.bars[bar]!.ends) pieceOf[node] = piece;
    return wholePiece(frame, bars, single);
  });
  return { pieceOf, pieces };
}

function wholePiece(frame: Frame, bars: readonly number[], single: readonly Piece[]): Piece {
  const feet = new Set<number>();
  for (const bar of bars)
    for (const node of frame.bars[bar]!.ends) if (frame.nodes[node]!.grounded) feet.add(node);
  const sorted = [...feet].sort((a, b) => a - b);
  return together(
    bars.map((bar) => single[bar]!),
    sorted,
    outlineOf(frame, sorted),
  );
}

function together(parts: readonly Piece[], feet: readonly number[], outline: readonly number[]): Piece {
  let [weight, momentX, momentY, height] = [0, 0, 0, 0];
  for (const part of parts) {
    weight += part.weight;
    momentX += part.momentX;
    momentY += part.momentY;
    height = Math.max(height, part.height);
  }
  return { weight, momentX, momentY, height, feet, outline };
}

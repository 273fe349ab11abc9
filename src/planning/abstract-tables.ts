import { has, type PartSet } from '../base/part-set.js';
import type { AbstractWeldment } from '../model/weldment.js';
import type { OrderMasks } from './abstract-facts.js';
import { ANY_GRIPPER, milliseconds, type WayTable } from './abstract-ways.js';

/**
 * The numbers of a weldment without shapes in flat arrays. A move is a part in one of its ways; moves are numbered part
 * by part, and the ways of a part by gripper. Sets of parts are rows of `width` words.
 */
export interface FlatTables {
  readonly parts: number;
  readonly width: number;
  /** Grippers; as the number of a mounted gripper it means that any may be mounted beforehand. */
  readonly grippers: number;
  /** Moves of part p: from `firstMove[p]` up to `firstMove[p + 1]`. */
  readonly firstMove: Int32Array;
  readonly partOf: Int32Array;
  /** Gripper of a move, or ANY_GRIPPER. */
  readonly gripperOf: Int32Array;
  readonly regripsOf: Float64Array;
  readonly millisecondsOf: Float64Array;
  /** Weights of the soft wishes about the ways of its part that a move breaks. */
  readonly penaltyOf: Float64Array;
  /** How many ways of the part are better if no gripper has to be changed; 0: it is a best way. */
  readonly rankOf: Int32Array;
  /** The moves of each part, the best first, in the places of `firstMove`. */
  readonly byRank: Int32Array;
  readonly bestRegrips: Float64Array;
  readonly bestMilliseconds: Float64Array;
  readonly bestPenalty: Float64Array;
  /** Per gripper, the parts of which a best way uses it. */
  readonly bestBy: Uint32Array;
  /** The parts of which a best way needs no particular gripper. */
  readonly bestByAny: PartSet;
  /** Per gripper, the parts that no other gripper can take. */
  readonly onlyBy: Uint32Array;
  /** Joints of part p: from `firstJoint[p]` up to `firstJoint[p + 1]`. */
  readonly firstJoint: Int32Array;
  readonly jointTo: Int32Array;
  readonly jointTacks: Float64Array;
  readonly jointMilliseconds: Float64Array;
  /** Parts that may join only after p, or that p touches: from `firstWaiting[p]` up to `firstWaiting[p + 1]`. */
  readonly firstWaiting: Int32Array;
  readonly waiting: Int32Array;
}

export function flatTables(
  weldment: AbstractWeldment,
  ids: readonly string[],
  { grippers, ways, best, compare }: WayTable,
  masks: OrderMasks,
): FlatTables {
  const parts = ids.length;
  const width = Math.max(1, Math.ceil(parts / 32));
  const moves = ways.flatMap((list, part) => list.map((way) => ({ part, way })));
  const rankOf = Int32Array.from(
    moves,
    ({ part, way }) => ways[part]!.filter((other) => compare(other, way) < 0).length,
  );
  const bestBy = new Uint32Array(grippers.length * width);
  const bestByAny = new Uint32Array(width);
  const onlyBy = new Uint32Array(grippers.length * width);
  moves.forEach(({ part, way }, move) => {
    const [word, bit] = [part >>> 5, 1 << (part & 31)];
    if (way.gripper === ANY_GRIPPER) bestByAny[word]! |= rankOf[move] === 0 ? bit : 0;
    else if (rankOf[move] === 0) bestBy[way.gripper * width + word]! |= bit;
    if (way.gripper !== ANY_GRIPPER && ways[part]!.length === 1) onlyBy[way.gripper * width + word]! |= bit;
  });
  return {
    ...{ parts, width, grippers: grippers.length },
    firstMove: starts(ways),
    partOf: Int32Array.from(moves, ({ part }) => part),
    gripperOf: Int32Array.from(moves, ({ way }) => way.gripper),
    regripsOf: Float64Array.from(moves, ({ way }) => way.regrips),
    millisecondsOf: Float64Array.from(moves, ({ way }) => way.milliseconds),
    penaltyOf: Float64Array.from(moves, ({ way }) => way.penalty),
    byRank: Int32Array.from(moves.keys()).sort(
      (a, b) => moves[a]!.part - moves[b]!.part || rankOf[a]! - rankOf[b]! || a - b,
    ),
    ...{ rankOf, bestBy, bestByAny, onlyBy },
    bestRegrips: Float64Array.from(best, ({ regrips }) => regrips),
    bestMilliseconds: Float64Array.from(best, (way) => way.milliseconds),
    bestPenalty: Float64Array.from(best, ({ penalty }) => penalty),
    ...jointTables(weldment, ids),
    ...waitingTables(masks),
  };
}

/** Where each list begins when they are put one after another, and where the last one ends. */
function starts(lists: readonly (readonly unknown[])[]): Int32Array {
  const at = new Int32Array(lists.length + 1);
  lists.forEach((list, i) => (at[i + 1] = at[i]! + list.length));
  return at;
}

function jointTables({ joints, times }: AbstractWeldment, ids: readonly string[]) {
  const index = new Map(ids.map((id, i) => [id, i]));
  const lists: { readonly other: number; readonly tacks: number }[][] = ids.map(() => []);
  for (const { between, tacks } of joints) {
    const [a, b] = [index.get(between[0]), index.get(between[1])];
    if (a === undefined || b === undefined || a === b) continue;
    lists[a]!.push({ other: b, tacks });
    lists[b]!.push({ other: a, tacks });
  }
  const all = lists.flat();
  return {
    firstJoint: starts(lists),
    jointTo: Int32Array.from(all, ({ other }) => other),
    jointTacks: Float64Array.from(all, ({ tacks }) => tacks),
    jointMilliseconds: Float64Array.from(all, ({ tacks }) => milliseconds(tacks * times.tack)),
  };
}

function waitingTables({ before, touching }: OrderMasks) {
  const lists = before.map((_, part) =>
    before.flatMap((set, other) =>
      other !== part && (has(set, part) || (touching[other] !== undefined && has(touching[other], part)))
        ? [other]
        : [],
    ),
  );
  return { firstWaiting: starts(lists), waiting: Int32Array.from(lists.flat()) };
}

/** The lowest part in both a set and a row of `sets`, or -1. `width` words from `at` on are the set. */
export function lowestInBoth(
  set: Uint32Array,
  at: number,
  sets: Uint32Array,
  row: number,
  width: number,
): number {
  for (let i = 0; i < width; i += 1) {
    const both = set[at + i]! & sets[row * width + i]!;
    if (both !== 0) return i * 32 + 31 - Math.clz32(both & -both);
  }
  return -1;
}

import type { Grip } from './grips.js';
import type { StationMotion } from './grip-motion.js';
import type { Spot } from './spots.js';

/** One regrip: the grip that takes the part where it lies and sets it down on the regrip table. */
export interface Transfer {
  readonly grip: Grip;
  readonly from: Spot;
  readonly take: StationMotion;
  readonly to: Spot;
  readonly setDown: StationMotion;
}

/** How a part comes to lie at a spot. */
export interface Chain {
  readonly spot: Spot;
  readonly transfers: readonly Transfer[];
  /** What tells chains of equal length apart: the joint moves of its transfers. */
  readonly milliseconds: number;
}

/** The gripper that a chain starts with and the one it ends with; undefined for the empty chain. */
export const firstGripper = (chain: Chain): string | undefined => chain.transfers[0]?.grip.gripper.id;
export const lastGripper = (chain: Chain): string | undefined => chain.transfers.at(-1)?.grip.gripper.id;

export function changesWithin(chain: Chain): number {
  let changes = 0;
  for (let i = 1; i < chain.transfers.length; i += 1)
    if (chain.transfers[i]!.grip.gripper.id !== chain.transfers[i - 1]!.grip.gripper.id) changes += 1;
  return changes;
}

/** Whole milliseconds from home to a motion at a station and back, its own strokes left out. */
export const travelOf = ({ out, back }: StationMotion): number => out.milliseconds + back.milliseconds;

/** What a chain step may ask: where a part may lie, and whether a grip can take it or set it down there. */
export interface ChainMoves {
  readonly spots: readonly Spot[];
  readonly grips: readonly Grip[];
  take(grip: Grip, spot: Spot): StationMotion | undefined;
  setDown(grip: Grip, spot: Spot): StationMotion | undefined;
}

/** How many of the best grips on each face are compared by time, before the first of all others that will do. */
const COMPARED = 4;

/**
 * The next layer of a shortest-path search over (where the part lies, first gripper, last gripper): for each of these
 * the quickest chain with one more regrip, the first found among equals, unless `seen` has it with fewer. The arm
 * returns home between stations, so times add up. Adds what it finds to `seen`.
 */
export function nextChains(layer: readonly Chain[], moves: ChainMoves, seen: Set<string>): readonly Chain[] {
  const found = new Map<string, Chain>();
  const grippers = [...new Set(moves.grips.map(({ gripper }) => gripper.id))];
  for (const gripper of grippers) {
    const takes = rankedGrips(moves.grips.filter((grip) => grip.gripper.id === gripper));
    for (const chain of layer)
      for (const to of moves.spots) {
        const key = `${moves.spots.indexOf(to)} ${firstGripper(chain) ?? gripper} ${gripper}`;
        if (seen.has(key) || to === chain.spot) continue;
        const next = quickest(takes, chain, to, moves);
        const known = found.get(key);
        if (next && (!known || next.milliseconds < known.milliseconds)) found.set(key, next);
      }
  }
  for (const key of found.keys()) seen.add(key);
  return [...found.values()];
}

/** Grips of one gripper in their order: the best few of each face, and all others. */
interface Ranked {
  readonly best: readonly Grip[];
  readonly others: readonly Grip[];
}

function rankedGrips(grips: readonly Grip[]): Ranked {
  const before = new Map<string, number>();
  const isBest = grips.map(({ face }) => {
    const count = before.get(face) ?? 0;
    before.set(face, count + 1);
    return count < COMPARED;
  });
  return { best: grips.filter((_, i) => isBest[i]), others: grips.filter((_, i) => !isBest[i]) };
}

/** A chain and one more transfer: by the quickest of the best grips, or by the first of the others that will do. */
function quickest({ best, others }: Ranked, chain: Chain, to: Spot, moves: ChainMoves): Chain | undefined {
  let found: Chain | undefined;
  for (const grip of best) {
    const next = extended(chain, grip, to, moves);
    if (next && (!found || next.milliseconds < found.milliseconds)) found = next;
  }
  for (const grip of others) found ??= extended(chain, grip, to, moves);
  return found;
}

function extended(chain: Chain, grip: Grip, to: Spot, moves: ChainMoves): Chain | undefined {
  const from = chain.spot;
  const take = moves.take(grip, from);
  const setDown = take && moves.setDown(grip, to);
  if (!take || !setDown) return undefined;
  return {
    spot: to,
    transfers: [...chain.transfers, { grip, from, take, to, setDown }],
    milliseconds: chain.milliseconds + travelOf(take) + travelOf(setDown),
  };
}

import type { Grip } from './grips.js';
import type { GripMotion, Spot } from './handling.js';

/** One regrip: the grip that takes the part where it lies and sets it down on the regrip table. */
export interface Transfer {
  readonly grip: Grip;
  readonly from: Spot;
  readonly take: GripMotion;
  readonly to: Spot;
  readonly setDown: GripMotion;
}

/** How a part comes to lie at a spot. */
export interface Chain {
  readonly spot: Spot;
  readonly transfers: readonly Transfer[];
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

/** What a chain step may ask: where a part may lie, and whether a grip can take it or set it down there. */
export interface ChainMoves {
  readonly spots: readonly Spot[];
  readonly grips: readonly Grip[];
  take(grip: Grip, spot: Spot): GripMotion | undefined;
  setDown(grip: Grip, spot: Spot): GripMotion | undefined;
}

const keyOf = (chain: Chain, spots: readonly Spot[]): string =>
  `${spots.indexOf(chain.spot)} ${firstGripper(chain)} ${lastGripper(chain)}`;

/**
 * The next layer of a breadth-first search over (where the part lies, first gripper, last gripper): for each of
 * these the first chain with one more regrip, unless `seen` has it with fewer. Adds what it finds to `seen`.
 */
export function nextChains(layer: readonly Chain[], moves: ChainMoves, seen: Set<string>): readonly Chain[] {
  const found: Chain[] = [];
  const grippers = [...new Set(moves.grips.map(({ gripper }) => gripper.id))];
  for (const chain of layer)
    for (const gripper of grippers) {
      const takes = moves.grips.filter((grip) => grip.gripper.id === gripper);
      for (const to of moves.spots) {
        const start = { spot: to, transfers: [...chain.transfers] };
        const key = `${moves.spots.indexOf(to)} ${firstGripper(chain) ?? gripper} ${gripper}`;
        if (seen.has(key) || to === chain.spot) continue;
        const transfer = firstTransfer(takes, chain.spot, to, moves);
        if (!transfer) continue;
        start.transfers.push(transfer);
        seen.add(keyOf(start, moves.spots));
        found.push(start);
      }
    }
  return found;
}

function firstTransfer(
  grips: readonly Grip[],
  from: Spot,
  to: Spot,
  moves: ChainMoves,
): Transfer | undefined {
  for (const grip of grips) {
    const take = moves.take(grip, from);
    if (!take) continue;
    const setDown = moves.setDown(grip, to);
    if (setDown) return { grip, from, take, to, setDown };
  }
  return undefined;
}

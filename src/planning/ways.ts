import { has, intersects, type PartSet } from '../base/part-set.js';
import type { Approach } from '../facts/approaches.js';
import { changesWithin, firstGripper, type Chain } from '../facts/chains.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { GripMotion } from '../facts/handling.js';

/** How a part gets from the infeed into place: regrips, last grip, approach, with the arm's joints. */
export interface Way {
  readonly chain: Chain;
  readonly grip: Grip;
  readonly take: GripMotion;
  readonly approach: Approach;
  readonly place: GripMotion;
  readonly regrips: number;
  /** Tool changes, counting one at the start when the gripper on the arm is another. */
  readonly changes: number;
}

/** The grips of a way in turn. */
export const gripsOf = ({ chain, grip }: Pick<Way, 'chain' | 'grip'>): readonly Grip[] => [
  ...chain.transfers.map((transfer) => transfer.grip),
  grip,
];

/** Changes that a chain with a last gripper costs when `current` is on the arm; none on the arm costs nothing. */
function changesOf(chain: Chain, last: string, current: string | undefined): number {
  const first = firstGripper(chain) ?? last;
  const end = chain.transfers.at(-1)?.grip.gripper.id ?? last;
  return changesWithin(chain) + (end === last ? 0 : 1) + (current === undefined || current === first ? 0 : 1);
}

/** Whether every tool change that a way asks for can be made: the arm gets to both stands. */
function canChange(facts: Facts, chain: Chain, last: string, current: string | undefined): boolean {
  const used = new Set([...chain.transfers.map(({ grip }) => grip.gripper.id), last, current ?? last]);
  if (used.size === 1) return true;
  return facts.scene.cell.grippers.every(
    (gripper) => !used.has(gripper.id) || facts.stand(gripper) !== undefined,
  );
}

export const isOpen = (approach: Approach, inPlace: PartSet): boolean =>
  approach.fixedHit === undefined &&
  !intersects(approach.hits, inPlace) &&
  !approach.squeezes.some(([p, q]) => has(inPlace, p) && has(inPlace, q));

/**
 * Ways for a part with a given number of regrips and last gripper, cheapest in tool changes first, found one at a
 * time so that a caller who takes the first pays for the first only. Grips whose id is put into `given.refused`
 * meanwhile are passed over.
 */
export function* waysOf(
  facts: Facts,
  part: number,
  inPlace: PartSet,
  current: string | undefined,
  regrips: number,
  lastGripper: string,
  given: {
    readonly refused?: ReadonlySet<number>;
    /** Approaches to consider; those that the parts in place leave open when absent. */
    readonly approaches?: readonly Approach[];
  } = {},
): Generator<Way> {
  const chains = facts
    .chains(part, regrips)
    .filter((chain) => canChange(facts, chain, lastGripper, current))
    .map((chain) => ({ chain, changes: changesOf(chain, lastGripper, current) }))
    .sort((p, q) => p.changes - q.changes);
  const approaches =
    given.approaches ?? facts.approaches(part).filter((approach) => isOpen(approach, inPlace));
  const grips = facts.usableGrips(part).filter(({ gripper }) => gripper.id === lastGripper);
  for (const { chain, changes } of chains)
    for (const approach of approaches) {
      for (const grip of grips) {
        if (given.refused?.has(grip.id) === true) continue;
        const hits = facts.gripperHits(part, grip, approach);
        if (hits.fixed || intersects(hits.parts, inPlace)) continue;
        const place = facts.place(part, grip, approach);
        if (!place.ok) continue;
        const take = facts.take(part, grip, chain.spot);
        if (!take.ok) continue;
        yield { chain, grip, take: take.value, approach, place: place.value, regrips, changes };
      }
    }
}

/** Whether the arm can bring a part by a grip along some approach, as far as table and keep-outs allow. */
export const canBring = (facts: Facts, part: number, grip: Grip): boolean =>
  facts
    .approaches(part)
    .some(
      (approach) =>
        approach.fixedHit === undefined &&
        !facts.gripperHits(part, grip, approach).fixed &&
        facts.place(part, grip, approach).ok,
    );

/** The least number of regrips with which a part can be placed beside the parts in place; Infinity if none will do. */
export function leastRegrips(facts: Facts, part: number, inPlace: PartSet): number {
  for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1)
    for (const { id } of facts.scene.cell.grippers)
      if (!waysOf(facts, part, inPlace, undefined, regrips, id).next().done) return regrips;
  return Infinity;
}

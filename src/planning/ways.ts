import { has, intersects, type PartSet } from '../base/part-set.js';
import type { Approach } from '../facts/approaches.js';
import { changesWithin, firstGripper, type Chain } from '../facts/chains.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { GripMotion } from '../facts/handling.js';
import type { Handler } from '../model/cell.js';

/** A handling arm as it is when a part is to be fetched. */
export interface Arm {
  readonly robot: Handler;
  /** On the arm; undefined while any may be mounted beforehand. */
  readonly gripper: string | undefined;
  /** Grippers that other arms use. */
  readonly taken?: ReadonlySet<string>;
}

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

/** Changes that a chain with a last gripper costs when `current` is on the arm; none on the arm costs nothing. */
function changesOf(chain: Chain, last: string, current: string | undefined): number {
  const first = firstGripper(chain) ?? last;
  const end = chain.transfers.at(-1)?.grip.gripper.id ?? last;
  return changesWithin(chain) + (end === last ? 0 : 1) + (current === undefined || current === first ? 0 : 1);
}

/** Whether every tool change that a way asks for can be made: the arm gets to both stands, and no other arm has them. */
function canChange(
  facts: Facts,
  { robot, gripper: current, taken }: Arm,
  chain: Chain,
  last: string,
): boolean {
  const used = new Set([...chain.transfers.map(({ grip }) => grip.gripper.id), last, current ?? last]);
  if (taken !== undefined && [...used].some((gripper) => taken.has(gripper))) return false;
  if (used.size === 1) return true;
  return facts.scene.cell.grippers.every(
    (gripper) => !used.has(gripper.id) || facts.stand(robot, gripper) !== undefined,
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
  arm: Arm,
  regrips: number,
  lastGripper: string,
  given: {
    readonly refused?: ReadonlySet<number>;
    /** Approaches to consider; those that the parts in place leave open when absent. */
    readonly approaches?: readonly Approach[];
  } = {},
): Generator<Way> {
  const chains = facts
    .chains(arm.robot, part, regrips)
    .filter((chain) => canChange(facts, arm, chain, lastGripper))
    .map((chain) => ({ chain, changes: changesOf(chain, lastGripper, arm.gripper) }))
    .sort((p, q) => p.changes - q.changes);
  const approaches =
    given.approaches ?? facts.approaches(part).filter((approach) => isOpen(approach, inPlace));
  const grips = facts
    .usableGrips(part)
    .filter(({ gripper, robot }) => gripper.id === lastGripper && robot === arm.robot);
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

/** Whether its arm can bring a part by a grip along some approach, as far as table and keep-outs allow. */
export const canBring = (facts: Facts, part: number, grip: Grip): boolean =>
  facts
    .approaches(part)
    .some(
      (approach) =>
        approach.fixedHit === undefined &&
        !facts.gripperHits(part, grip, approach).fixed &&
        facts.place(part, grip, approach).ok,
    );

/** Every pair of a handling robot and a gripper, by robot. */
export const armsAndGrippers = (
  facts: Facts,
): readonly { readonly robot: Handler; readonly gripper: string }[] => {
  const { handlers, grippers } = facts.scene.cell;
  return handlers.flatMap((robot) => grippers.map(({ id }) => ({ robot, gripper: id })));
};

/** The least number of regrips with which a part can be placed beside the parts in place; Infinity if none will do. */
export function leastRegrips(facts: Facts, part: number, inPlace: PartSet): number {
  for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1)
    for (const { robot, gripper } of armsAndGrippers(facts))
      if (!waysOf(facts, part, inPlace, { robot, gripper: undefined }, regrips, gripper).next().done)
        return regrips;
  return Infinity;
}

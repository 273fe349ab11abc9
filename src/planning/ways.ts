import { emptySet, has, intersects, members, withMember, type PartSet } from '../base/part-set.js';
import type { Approach } from '../facts/approaches.js';
import { changesWithin, firstGripper, travelOf, type Chain } from '../facts/chains.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { GripMotion, StationMotion } from '../facts/grip-motion.js';
import { holdKey } from './held-grip.js';
import type { Route } from '../facts/routes.js';
import type { Gripper, Handler } from '../model/cell.js';

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
  readonly take: StationMotion;
  readonly approach: Approach;
  readonly place: GripMotion;
  /** From home to where the approach begins, and home again once the part is let go. */
  readonly come: Route;
  readonly go: Route;
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

/** Whether every tool change that a way asks for can be made: the arm gets to the stands, and no other arm has them. */
function canChange(
  facts: Facts,
  { robot, gripper: current, taken }: Arm,
  chain: Chain,
  last: string,
): boolean {
  const used = new Set([...chain.transfers.map(({ grip }) => grip.gripper.id), last, current ?? last]);
  if (taken !== undefined && [...used].some((gripper) => taken.has(gripper))) return false;
  if (used.size === 1) return true;
  return changesFreely(
    facts,
    robot,
    facts.scene.cell.grippers.filter(({ id }) => used.has(id)),
  );
}

/** Whether an arm can change every one of some grippers for every other. */
export const changesFreely = (facts: Facts, robot: Handler, grippers: readonly Gripper[]): boolean =>
  grippers.every((from) =>
    grippers.every((to) => from === to || facts.change(robot, from, to) !== undefined),
  );

export const isOpen = (approach: Approach, inPlace: PartSet): boolean =>
  approach.fixedHit === undefined &&
  !intersects(approach.hits, inPlace) &&
  !approach.squeezes.some(([p, q]) => has(inPlace, p) && has(inPlace, q));

/**
 * Ways for a part with a given number of regrips and last gripper, cheapest in tool changes first, then by approach,
 * grip and branch of the arm, then the quickest; found one at a time so that a caller who takes the first pays for the
 * first only. Holds whose `holdKey` is put into `given.refused` meanwhile are passed over.
 */
export function* waysOf(
  facts: Facts,
  part: number,
  inPlace: PartSet,
  arm: Arm,
  regrips: number,
  lastGripper: string,
  given: {
    readonly refused?: ReadonlySet<string>;
    /** Approaches to consider; those that the parts in place leave open when absent. */
    readonly approaches?: readonly Approach[];
    /** Last grips to consider; all when absent. */
    readonly allows?: (grip: Grip) => boolean;
  } = {},
): Generator<Way> {
  const approaches =
    given.approaches ?? facts.approaches(part).filter((approach) => isOpen(approach, inPlace));
  const grips = facts
    .usableGrips(part)
    .filter(({ gripper, robot }) => gripper.id === lastGripper && robot === arm.robot)
    .filter((grip) => given.allows?.(grip) ?? true);
  for (const { chains, changes } of chainsByChanges(facts, part, arm, regrips, lastGripper))
    for (const approach of approaches)
      for (const grip of grips) {
        const hits = facts.gripperHits(part, grip, approach);
        if (hits.fixed || intersects(hits.parts, inPlace)) continue;
        const place = facts.place(part, grip, approach);
        if (!place.ok) continue;
        // Before the ways of the arm to the place, which are dearer and differ from state to state.
        const takes = takesOf(facts, part, grip, chains);
        if (takes.length === 0) continue;
        for (const motion of place.value) {
          if (given.refused?.has(holdKey({ grip, motion })) === true) continue;
          const routes = routesOf(motion, inPlace, withMember(inPlace, part));
          if (!routes) continue;
          for (const { chain, take } of takes)
            yield { chain, grip, take, approach, place: motion, ...routes, regrips, changes };
        }
      }
}

/**
 * Ways of an arm to a part's place and home again, clear of the parts in place when it comes and when it goes; undefined
 * when its links meet one in the strokes or no way is found.
 */
export function routesOf(
  { hits, come, go }: GripMotion,
  coming: PartSet,
  going: PartSet,
): { readonly come: Route; readonly go: Route } | undefined {
  if (intersects(hits, coming)) return undefined;
  const [there, back] = [come.first(coming), go.first(going)];
  return there && back && { come: there, go: back };
}

/** The chains that may end with a gripper, by the tool changes that they cost, fewest first. */
function chainsByChanges(
  facts: Facts,
  part: number,
  arm: Arm,
  regrips: number,
  last: string,
): readonly { readonly chains: readonly Chain[]; readonly changes: number }[] {
  const groups = new Map<number, Chain[]>();
  for (const chain of facts.chains(arm.robot, part, regrips)) {
    if (!canChange(facts, arm, chain, last)) continue;
    const changes = changesOf(chain, last, arm.gripper);
    const group = groups.get(changes);
    if (group) group.push(chain);
    else groups.set(changes, [chain]);
  }
  return [...groups].sort(([a], [b]) => a - b).map(([changes, chains]) => ({ chains, changes }));
}

/** The chains from whose end a grip can take the part, quickest first with the take counted. */
function takesOf(
  facts: Facts,
  part: number,
  grip: Grip,
  chains: readonly Chain[],
): readonly { readonly chain: Chain; readonly take: StationMotion }[] {
  return chains
    .flatMap((chain) => {
      const take = facts.take(part, grip, chain.spot);
      if (!take.ok) return [];
      return [{ chain, take: take.value, milliseconds: chain.milliseconds + travelOf(take.value) }];
    })
    .sort((a, b) => a.milliseconds - b.milliseconds);
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

/**
 * The least number of regrips with which a part can be placed beside the parts in place, were these as accurate as
 * they can be; Infinity if none will do.
 */
export function leastRegrips(facts: Facts, part: number, inPlace: PartSet): number {
  for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1)
    for (const { robot, gripper } of armsAndGrippers(facts))
      for (const way of waysOf(facts, part, inPlace, { robot, gripper: undefined }, regrips, gripper))
        if (meetsAtBest(facts, part, way, inPlace)) return regrips;
  return Infinity;
}

/** Whether a part meets those in place, each of which may be the first or located or neither. */
function meetsAtBest(facts: Facts, part: number, way: Way, inPlace: PartSet): boolean {
  const others = members(inPlace);
  if (others.length === 0) return true;
  const nothing = emptySet(facts.scene.parts.length);
  return [...others, undefined].some((first) =>
    [nothing, inPlace].some((located) => {
      const among = { parts: inPlace, first: first ?? NOT_FIRST, located, seated: nothing };
      return facts.fitUp(part, gripsOf(way), way.chain.spot, among).ok;
    }),
  );
}

/** Stands for a first part that is none of those looked at. */
const NOT_FIRST = -1;

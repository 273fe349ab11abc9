import type { Joints } from '../kinematics/arm.js';
import { toDegrees, type Arm, type JointNumber } from '../kinematics/arm.js';
import type { Scene } from '../model/scene.js';
import type { Refusal } from '../model/verdict.js';
import type { Facts } from './facts.js';
import type { Joint, JointSeam } from './joints.js';
import { isNearer } from './nearest-miss.js';
import {
  ReachTries,
  robotOf,
  robotsFor,
  targetsOf,
  usableOptions,
  type ReachTarget,
  type ReachTry,
} from './reach-tries.js';
import type { TackSite } from './tack-sites.js';

/** Whether sites of a seam that the torch gets to are enough to tack it by the rules. */
export type EnoughSites = (joint: Joint, seam: JointSeam, sites: readonly TackSite[]) => boolean;

/** The distance of the joint that is nearest to a limit from that limit, degrees. */
export interface ReachMargin {
  readonly degrees: number;
  readonly joint: JointNumber;
}

/** How one robot gets to one target. */
export interface TargetReach {
  readonly target: ReachTarget;
  readonly robot: string;
  readonly reached: boolean;
  /** Which of its grips or tack sites are reached. */
  readonly open: readonly boolean[];
  /** Grips or tack sites: how many are reached, of how many. */
  readonly ways: { readonly reached: number; readonly of: number };
  /** The largest of the margins of those reached; undefined when there is none. */
  readonly margin: ReachMargin | undefined;
  /** The smallest of the misses, when the target is not reached and an arm was asked at all. */
  readonly nearest: Refusal | undefined;
}

/**
 * What each robot gets to in a cell, target by target: poses with their straight strokes inside the limits, whatever
 * other parts and arms are in the way. A part is reached by one usable grip, along one approach or on one spot; at the
 * regrip stations a grip counts when it takes the part there or sets it down. A seam is reached when `enough` of its
 * sites are. Of the ways to one grip or site the first that works counts, as it would in a plan.
 */
export function surveyReach(
  facts: Facts,
  enough: EnoughSites,
  targets: readonly ReachTarget[] = targetsOf(facts),
): readonly TargetReach[] {
  const { scene, settings } = facts;
  const tries = new ReachTries(scene, settings, usableOptions(facts));
  return targets.flatMap((target) =>
    robotsFor(scene.cell, target).map((robot) => {
      const { arm } = robotOf(scene.cell, robot);
      const answers = tries.groups(target, robot).map((group) => answerOf(group, arm));
      const open = answers.map(({ margin }) => margin !== undefined);
      const reached = isReached(facts, target, open, enough);
      return {
        ...{ target, robot, reached, open },
        ways: { reached: open.filter((one) => one).length, of: answers.length },
        margin: answers.reduce<ReachMargin | undefined>(
          (best, { margin }) =>
            margin && (best === undefined || margin.degrees > best.degrees) ? margin : best,
          undefined,
        ),
        nearest: reached ? undefined : nearestOf(answers.map(({ nearest }) => nearest)),
      };
    }),
  );
}

/** Whether some robot gets to a target, or to a seam several together: each site may be tacked by any of them. */
export function isMet(
  facts: Pick<Facts, 'sites'>,
  own: readonly Pick<TargetReach, 'target' | 'reached' | 'open'>[],
  enough: EnoughSites,
): boolean {
  if (own.some(({ reached }) => reached)) return true;
  const [first] = own;
  if (first === undefined || own.length < 2 || !('seam' in first.target)) return false;
  const together = first.open.map((_, i) => own.some(({ open }) => open[i]));
  return isReached(facts, first.target, together, enough);
}

/** Whether a target is reached when these of its groups are. */
export function isReached(
  facts: Pick<Facts, 'sites'>,
  target: ReachTarget,
  groups: readonly boolean[],
  enough: EnoughSites,
): boolean {
  if (!('seam' in target)) return groups.includes(true);
  const sites = facts.sites(target.joint, target.seam).filter((_, i) => groups[i]);
  return enough(target.joint, target.seam, sites);
}

interface Answer {
  readonly margin: ReachMargin | undefined;
  readonly nearest: Refusal | undefined;
}

function answerOf(group: readonly ReachTry[], arm: Arm): Answer {
  const misses: Refusal[] = [];
  for (const ask of group) {
    const found = ask();
    if (found.ok) return { margin: marginOf(arm, found.value), nearest: undefined };
    misses.push(found.error);
  }
  return { margin: undefined, nearest: nearestOf(misses) };
}

const nearestOf = (misses: readonly (Refusal | undefined)[]): Refusal | undefined =>
  misses.reduce((best, next) => (next && isNearer(next, best) ? next : best), undefined);

/** The joint nearest to a limit at any of these poses; the first of equals. */
function marginOf(arm: Arm, poses: readonly Joints[]): ReachMargin {
  let best: ReachMargin = { degrees: Infinity, joint: 1 };
  for (const joints of poses)
    joints.forEach((value, i) => {
      const [low, high] = arm.limits[i]!;
      const degrees = toDegrees(Math.min(value - low, high - value));
      if (degrees < best.degrees) best = { degrees, joint: (i + 1) as JointNumber };
    });
  return best;
}

/**
 * A target that a plan cannot do without: each part at the infeed and in its final place, and each seam. Regrip
 * stations and stands of grippers are only needed by some plans.
 */
export const isNeeded = ({ station }: ReachTarget): boolean => station === 'infeed' || station === 'table';

/** What a target is called: the id of its part, seam or gripper. */
export function targetName({ parts }: Pick<Scene, 'parts'>, target: ReachTarget): string {
  if ('seam' in target) return target.seam.id;
  return target.station === 'stand' ? target.gripper : parts[target.part]!.part.id;
}

/** Names a target in its cell and in the same cell after a change. */
export const targetKey = (scene: Pick<Scene, 'parts'>, target: ReachTarget): string =>
  `${target.station} ${'seam' in target ? 'seam' : 'part'} ${targetName(scene, target)}`;

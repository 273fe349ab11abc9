import { has, intersects, members, type PartSet } from '../base/part-set.js';
import { rounded } from '../base/order.js';
import { negate } from '../geometry/vector.js';
import type { Refusal } from '../model/verdict.js';
import { weldingPosition } from '../model/welding-position.js';
import type { Facts } from './facts.js';
import type { Joint, JointSeam } from './joints.js';
import { isNearer } from './nearest-miss.js';
import type { TackSite } from './tack-sites.js';
import { clearOf } from './torch-motion.js';
import type { TorchWay } from './torch-ways.js';

/** One reason against sites of a seam: how many it refuses, and the one that missed by least. */
export interface AccessReason {
  readonly code: string;
  readonly count: number;
  readonly nearest: Refusal;
}

/** How much of a seam the torch gets at with some parts in place. */
export interface SeamAccess {
  /** Candidate sites. */
  readonly sites: number;
  /** Sites with a torch way that is allowed and clear of the parts in place, the table and the keep-outs. */
  readonly clear: number;
  /** Of these, sites that the arm can lay. */
  readonly reached: number;
  /** Pieces of the seam on which tacks can be laid, mm from its `from` end; in order. */
  readonly stretches: readonly (readonly [from: number, to: number])[];
  /** What is against the other sites, the most frequent first. */
  readonly against: readonly AccessReason[];
}

/** Names of what a torch way meets among the parts in place and what is always there. */
function met({ scene }: Facts, { hits, fixed }: TorchWay, present: PartSet): readonly string[] {
  const parts = members(hits).filter((part) => has(present, part));
  return [...parts.map((part) => scene.parts[part]!.part.id), ...(fixed ? [`the ${fixed}`] : [])];
}

/** Why a welding robot cannot lay a tack on a site of its torch with these parts in place; undefined when it can. */
function siteRefusal(facts: Facts, site: TackSite, present: PartSet, robot: string): Refusal | undefined {
  const subjects = [site.joint.id, site.seam.id];
  const all = [...site.ways, ...site.blocked];
  if (all.length === 0) {
    const runs = [site.along, negate(site.along)].map((way) => weldingPosition(way, site.open));
    return { code: 'position-not-allowed', subjects: [...subjects, ...new Set(runs)] };
  }
  if (site.ways.every(({ hits }) => intersects(hits, present))) {
    // The way that meets least, the nearest to the bisector of equals.
    const names = all.map((way) => met(facts, way, present));
    const least = names.reduce((best, next) => (next.length < best.length ? next : best));
    return { code: 'torch-blocked', subjects: [...subjects, ...least] };
  }
  return facts.torchRefusal(site, clearOf(present), robot);
}

const missOf = ({ value, limit }: Refusal): number =>
  value === undefined || limit === undefined ? Infinity : Math.abs(value - limit);

/** Reasons by code and by what is met, the most frequent first; of equals the one that came first. */
function reasonsOf(refusals: readonly Refusal[]): readonly AccessReason[] {
  const reasons = new Map<string, AccessReason>();
  for (const refusal of refusals) {
    const blocked = refusal.code === 'torch-blocked';
    const key = blocked ? refusal.subjects.join('\n') : refusal.code;
    const known = reasons.get(key);
    const nearest = known && missOf(refusal) >= missOf(known.nearest) - 1e-9 ? known.nearest : refusal;
    reasons.set(key, { code: refusal.code, count: (known?.count ?? 0) + 1, nearest });
  }
  return [...reasons.values()].sort((a, b) => b.count - a.count);
}

/** Why none of the welding robots can: the miss that is nearest; of others that of the first robot. */
function nearestRefusal(refusals: readonly (Refusal | undefined)[]): Refusal | undefined {
  let nearest: Refusal | undefined;
  for (const refusal of refusals) {
    if (refusal === undefined) return undefined;
    if (isNearer(refusal, nearest)) nearest = refusal;
  }
  return nearest;
}

/**
 * The access to a seam, site by site, with these parts in place: of one welding robot, or of all together where none is
 * named, each site by any of them.
 */
export function seamAccess(
  facts: Facts,
  joint: Joint,
  seam: JointSeam,
  present: PartSet,
  robot?: string,
): SeamAccess {
  const robots = facts.scene.cell.welders.filter(({ id }) => robot === undefined || id === robot);
  const byRobot = robots.map(({ id }) => ({ id, sites: facts.sites(joint, seam, id) }));
  const { sites } = byRobot[0]!;
  const refusals = sites.map((_, i) =>
    nearestRefusal(byRobot.map(({ id, sites: own }) => siteRefusal(facts, own[i]!, present, id))),
  );
  const stretches: [number, number][] = [];
  sites.forEach(({ start, length }, i) => {
    if (refusals[i] !== undefined) return;
    const end = rounded(start + length, 4);
    const last = stretches.at(-1);
    if (last && refusals[i - 1] === undefined && start <= last[1]) last[1] = end;
    else stretches.push([start, end]);
  });
  const clear = sites.filter((_, i) =>
    byRobot.some(({ sites: own }) => own[i]!.ways.some(({ hits }) => !intersects(hits, present))),
  );
  return {
    sites: sites.length,
    clear: clear.length,
    reached: refusals.filter((refusal) => refusal === undefined).length,
    stretches,
    against: reasonsOf(refusals.flatMap((refusal) => (refusal ? [refusal] : []))),
  };
}

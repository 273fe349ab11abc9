import type { Facts } from '../facts/facts.js';
import type { Joint } from '../facts/joints.js';
import type { TackSite } from '../facts/tack-sites.js';
import type { Vec3 } from '../geometry/vector.js';
import type { TackWish } from '../model/wish.js';
import type { Refusal } from '../model/verdict.js';
import { fail, ok, type Result } from '../base/result.js';
import { distance } from '../geometry/vector.js';
import { isNear } from '../rules/wish-kept.js';
import { tackMiddle } from '../rules/wishes-true.js';
import { fewestTacks, type SeamCover } from './seam-row.js';
import { statedPoint } from './stated-pose.js';

/** What is asked of the tacks of a stage beside the rules. */
export interface TackAsk {
  /** A text that is equal for equal asks. */
  readonly key: string;
  /** Whether a tack may be at a site. */
  readonly allows: (site: TackSite) => boolean;
  /** Each of them wants a tack near a place. */
  readonly wished: readonly TackWish[];
}

/** The middle of a tack in the weldment frame, as a plan that states its seam and its start has it. */
export const siteMiddle = ({ seam, start, length }: TackSite): Vec3 =>
  tackMiddle({ from: statedPoint(seam.from), to: statedPoint(seam.to) }, start, length);

/** Whether a wish is about a joint. */
export const isAboutJoint = (
  { scene }: Facts,
  { tack }: TackWish,
  { a, b }: Pick<Joint, 'a' | 'b'>,
): boolean => [a, b].every((part) => tack.includes(scene.parts[part]!.part.id));

/**
 * The seams of a joint with the sites of which one must be taken, wish by wish: on the seam where that asks for the fewest tacks
 * more, the first of equals. Every seam can be covered without.
 */
export function withWished(
  covers: readonly SeamCover[],
  wished: readonly TackWish[],
): Result<readonly SeamCover[], Refusal> {
  let asked = [...covers];
  for (const wish of wished) {
    const tried = asked.flatMap((cover, seam) => {
      const near = cover.sites.flatMap((site, i) => (isNear(wish, siteMiddle(site)) ? [i] : []));
      if (near.length === 0) return [];
      const then = { ...cover, must: [...(cover.must ?? []), near] };
      const tacks = fewestTacks(then)?.length;
      return tacks === undefined ? [] : [{ seam, then, more: tacks - fewestTacks(cover)!.length }];
    });
    const [first, ...rest] = tried;
    if (first === undefined) return fail(nothingNear(covers, wish));
    const best = rest.reduce((a, b) => (b.more < a.more ? b : a), first);
    asked = asked.map((cover, seam) => (seam === best.seam ? best.then : cover));
  }
  return ok(asked);
}

/** How far the nearest open site is from where a tack is wished; no number where one is there and leaves no room for the others. */
function nothingNear(covers: readonly SeamCover[], { tack, near, within }: TackWish): Refusal {
  const away = covers.flatMap(({ sites }) => sites.map((site) => distance(near, siteMiddle(site))));
  const nearest = Math.min(...away);
  const miss = { value: nearest, limit: within, unit: 'mm' };
  return { code: 'wish', subjects: [...tack], ...(away.length > 0 && nearest > within && miss) };
}

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

/** Once wishes are shared out among the seams of a joint, how often that is tried with fewer tacks; our choice. */
const TRIES_FOR_FEWER = 200;

/**
 * The seams of a joint with the sites of which one must be taken: each wish is kept on one seam of it, all of them together so
 * that they ask for the fewest tacks more as far as that was looked for. Every seam can be covered without. Refused only where no
 * sharing out keeps all, which names the first wish that those before it leave no room.
 */
export function withWished(
  covers: readonly SeamCover[],
  wished: readonly TackWish[],
): Result<readonly SeamCover[], Refusal> {
  const sharing = new Sharing(covers, wished);
  const best = sharing.of(wished.map((_, wish) => wish));
  if (best !== undefined)
    return ok(
      covers.map((cover, seam) => (best[seam]!.length === 0 ? cover : sharing.covered(seam, best[seam]!))),
    );
  const first = wished.findIndex(
    (_, last) => sharing.of(Array.from({ length: last + 1 }, (__, wish) => wish)) === undefined,
  );
  return fail(nothingNear(covers, wished[first]!));
}

/** By seam, the wishes that are kept on it. */
type Shares = readonly (readonly number[])[];

interface Shared {
  readonly shares: Shares;
  readonly tacks: number;
}

/** Wishes for tacks, by number, shared out among the seams of a joint: branch and bound on the number of tacks. */
class Sharing {
  /** By wish and seam, the sites that would keep it. */
  private readonly near: readonly (readonly (readonly number[])[])[];
  private readonly counts = new Map<string, number | undefined>();
  private tries = 0;

  constructor(
    private readonly covers: readonly SeamCover[],
    wished: readonly TackWish[],
  ) {
    this.near = wished.map((wish) =>
      covers.map(({ sites }) => sites.flatMap((site, i) => (isNear(wish, siteMiddle(site)) ? [i] : []))),
    );
  }

  /** Shares of some wishes that leave every seam a cover; undefined where there are none. */
  of(wishes: readonly number[]): Shares | undefined {
    this.tries = 0;
    const none = this.covers.map(() => []);
    return this.search(wishes, none, undefined)?.shares;
  }

  /** A seam with what is asked of it. */
  covered(seam: number, wishes: readonly number[]): SeamCover {
    const { must = [], ...cover } = this.covers[seam]!;
    return { ...cover, must: [...must, ...wishes.map((wish) => this.near[wish]![seam]!)] };
  }

  /** The best of what is known and of what shares lead to. */
  private search(left: readonly number[], shares: Shares, known: Shared | undefined): Shared | undefined {
    if (known && (this.tries += 1) > TRIES_FOR_FEWER) return known;
    const open = left.map((wish) => ({ wish, options: this.options(wish, shares) }));
    const tacks = this.covers.reduce((sum, _, seam) => sum + this.tacks(seam, shares[seam]!)!, 0);
    const more = Math.max(0, ...open.map(({ options }) => Math.min(...options.map((option) => option.more))));
    if (tacks + more >= (known?.tacks ?? Infinity)) return known;
    const [first, ...rest] = open;
    if (first === undefined) return { shares, tacks };
    // The wish with the fewest seams to choose from, so that what cannot be is seen soon; the first of equals.
    const { wish, options } = rest.reduce((a, b) => (b.options.length < a.options.length ? b : a), first);
    const others = left.filter((other) => other !== wish);
    return options
      .toSorted((a, b) => a.more - b.more || a.seam - b.seam)
      .reduce(
        (best, { seam }) =>
          this.search(
            others,
            shares.map((own, i) => (i === seam ? [...own, wish] : own)),
            best,
          ),
        known,
      );
  }

  /** Seams that can keep a wish beside those shared out already, and how many tacks more that takes. */
  private options(wish: number, shares: Shares): readonly { readonly seam: number; readonly more: number }[] {
    return shares.flatMap((own, seam) => {
      if (this.near[wish]![seam]!.length === 0) return [];
      const tacks = this.tacks(seam, [...own, wish]);
      return tacks === undefined ? [] : [{ seam, more: tacks - this.tacks(seam, own)! }];
    });
  }

  private tacks(seam: number, wishes: readonly number[]): number | undefined {
    const key = `${seam} ${wishes.toSorted((a, b) => a - b).join()}`;
    if (!this.counts.has(key)) this.counts.set(key, fewestTacks(this.covered(seam, wishes))?.length);
    return this.counts.get(key);
  }
}

/** How far the nearest open site is from where a tack is wished; no number where one is there and leaves no room for the others. */
function nothingNear(covers: readonly SeamCover[], { tack, near, within }: TackWish): Refusal {
  const away = covers.flatMap(({ sites }) => sites.map((site) => distance(near, siteMiddle(site))));
  const nearest = Math.min(...away);
  const miss = { value: nearest, limit: within, unit: 'mm' };
  return { code: 'wish', subjects: [...tack], ...(away.length > 0 && nearest > within && miss) };
}

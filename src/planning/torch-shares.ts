import { snap } from '../base/order.js';
import type { TackSite } from '../facts/tack-sites.js';
import type { TorchMotion } from '../facts/torch-motion.js';

/** A tack with the motions by which it can be laid: at most one of each welding robot, in the order of the cell. */
export interface Offered {
  readonly site: TackSite;
  readonly motions: readonly TorchMotion[];
}

interface Able {
  readonly robot: string;
  /** How far it stands out on the open side of the seam, mm, and its margin: the least of all the tacks. */
  readonly onOpenSide: number;
  readonly margin: number;
}

/** Tacks that one robot lays: those of a seam, or a single one. */
interface Share {
  /** Places in the list of tacks. */
  readonly tacks: readonly number[];
  /** Robots that can lay all of them, in the order of the cell. */
  readonly able: readonly Able[];
}

const motionBy = ({ motions }: Offered, robot: string): TorchMotion | undefined =>
  motions.find((motion) => motion.robot === robot);

function shareOf(all: readonly Offered[], tacks: readonly number[]): Share {
  const able = all[tacks[0]!]!.motions.flatMap(({ robot }) => {
    const own = tacks.flatMap((i) => motionBy(all[i]!, robot) ?? []);
    if (own.length < tacks.length) return [];
    const least = (of: (motion: TorchMotion) => number): number => Math.min(...own.map(of));
    return [{ robot, onOpenSide: least((one) => one.onOpenSide), margin: least(({ margin }) => margin) }];
  });
  return { tacks, able };
}

/** Seams as a whole where one robot can lay all of their tacks, else tack by tack; in the order of the tacks. */
function sharesOf(all: readonly Offered[]): readonly Share[] {
  const bySeam = new Map<string, number[]>();
  all.forEach(({ site }, i) => bySeam.set(site.seam.id, [...(bySeam.get(site.seam.id) ?? []), i]));
  return [...bySeam.values()].flatMap((tacks) => {
    const whole = shareOf(all, tacks);
    return whole.able.length > 0 ? [whole] : tacks.map((i) => shareOf(all, [i]));
  });
}

/**
 * Which welding robot lays each tack of one phase of a stage, as its motion: a seam goes as a whole to one robot that can
 * lay all its tacks, so that two sides of a joint which two robots reach are laid at once. What fewest robots can lay is
 * given out first; it goes to the one with the fewest tacks so far, of equals to that which stands farther out on the open
 * side of the seam, so that arms do not cross, then to that with the larger margin, then to the first of the cell. Expects
 * a motion for each.
 */
export function sharedOut(all: readonly Offered[]): readonly TorchMotion[] {
  const loads = new Map<string, number>();
  const chosen: TorchMotion[] = [];
  const load = (robot: string): number => loads.get(robot) ?? 0;
  for (const { tacks, able } of [...sharesOf(all)].sort((a, b) => a.able.length - b.able.length)) {
    const best = able.reduce((a, b) => {
      const better =
        load(a.robot) - load(b.robot) ||
        snap(b.onOpenSide - a.onOpenSide, 1e-3) ||
        snap(b.margin - a.margin, 1e-9);
      return better > 0 ? b : a;
    });
    loads.set(best.robot, load(best.robot) + tacks.length);
    for (const i of tacks) chosen[i] = motionBy(all[i]!, best.robot)!;
  }
  return chosen;
}

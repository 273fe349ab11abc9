import { cover, type Choice, type CoveringProgram } from '../algorithms/covering.js';
import type { TackSite } from '../facts/tack-sites.js';
import { isOpposite, middlesApart, opposedSeams, type Sides } from '../model/seam-relations.js';
import { fewestTacks, middleOf, seamChoices, thinned, type SeamCover } from './seam-row.js';

/** Prices, in whole numbers: of a tack in the middle instead of at an end, of one not opposite another, of one that must wait for the let-go. */
const MIDDLE = 20;
const UNPAIRED = 40;
const AFTER_LET_GO = 60;
const DEAREST = MIDDLE + UNPAIRED + AFTER_LET_GO;

/** One tack by itself, or two on two sides: for each the seam and the site, by number. */
interface Item {
  readonly places: readonly { readonly seam: number; readonly site: number }[];
  readonly cost: number;
}

/** A covering program of a joint, with what its items are. */
export interface JointProgram extends CoveringProgram {
  readonly items: readonly Item[];
}

/** What a site costs beside being a tack: near the middle of its seam, or only after the let-go. */
function wishCost({ seamLength, sites, whileHeld }: SeamCover, site: number): number {
  const inward = 1 - Math.abs((2 * middleOf(sites[site]!)) / seamLength - 1);
  return Math.round(MIDDLE * inward) + (whileHeld[site]! ? 0 : AFTER_LET_GO);
}

/** For each site of the first side the nearest of those opposite it on the second. */
function pairsOf(first: SeamCover, second: SeamCover): readonly (readonly [number, number])[] {
  return first.sites.flatMap((own, i) => {
    const across = second.sites
      .map((other, j) => ({ j, other, apart: middlesApart(first.run, own, second.run, other) }))
      .filter(({ apart, other }) => isOpposite(apart, own, other));
    if (across.length === 0) return [];
    const nearest = across.reduce((best, next) => (next.apart < best.apart - 1e-6 ? next : best));
    return [[i, nearest.j] as const];
  });
}

/** Sites on two sides nearer to each other than a distance, as rows of which only one may be taken. */
function apartRows(
  first: SeamCover,
  second: SeamCover,
  distance: number,
): readonly { readonly own: number; readonly others: readonly number[] }[] {
  const { tackLength } = second;
  return first.sites.flatMap((own, i) => {
    const near = second.sites.flatMap((other, j) =>
      middlesApart(first.run, own, second.run, other) < distance - 1e-6 ? [j] : [],
    );
    // Sites within the length of a tack exclude each other anyhow, so that they go into one row.
    const groups = new Map<number, number[]>();
    for (const j of near) {
      const group = Math.floor((second.sites[j]!.start - second.sites[near[0]!]!.start) / tackLength + 1e-6);
      groups.set(group, [...(groups.get(group) ?? []), j]);
    }
    return [...groups.values()].map((others) => ({ own: i, others }));
  });
}

/** What the program of a joint asks for beside the rules. */
interface ProgramWish {
  readonly sides: Sides;
  /** Price of a tack, more than all else together. */
  readonly tack: number;
  /** Distance that tacks on two sides keep, mm; 0 for none. */
  readonly apart: number;
  /** Whether tacks of one seam leave at least the length of one between them, so that two are not one long one. */
  readonly spread: boolean;
}

/**
 * The program of a joint. An item is a tack or, where sides are paired, two opposite ones.
 */
export function jointProgram(
  seams: readonly SeamCover[],
  { sides, tack, apart, spread }: ProgramWish,
): JointProgram {
  const opposed = sides === 'free' ? [] : opposedSeams(seams.map(({ run }) => run));
  const twoSided = new Set(opposed.flatMap(({ first, second }) => [first, second]));
  const alone = sides === 'paired' ? UNPAIRED : 0;
  const singles = seams.flatMap((cover, seam) =>
    cover.sites.map((_, site): Item => {
      const cost = tack + wishCost(cover, site) + (twoSided.has(seam) ? alone : 0);
      return { places: [{ seam, site }], cost };
    }),
  );
  const pairs = (sides === 'paired' ? opposed : []).flatMap(({ first, second }) =>
    pairsOf(seams[first]!, seams[second]!).map(([i, j]): Item => {
      const wishes = wishCost(seams[first]!, i) + wishCost(seams[second]!, j);
      const places = [
        { seam: first, site: i },
        { seam: second, site: j },
      ];
      return { places, cost: 2 * tack + wishes };
    }),
  );
  const items = [...singles, ...pairs];
  const at = seams.map(({ sites }): number[][] => sites.map(() => []));
  items.forEach(({ places }, item) => places.forEach(({ seam, site }) => at[seam]![site]!.push(item)));
  const itemsAt = (seam: number, sites: readonly number[]): number[] =>
    sites.flatMap((site) => at[seam]![site]!);
  const rows = seams.flatMap((cover, seam) =>
    seamChoices(cover).map((row): Choice => ({ ...row, members: itemsAt(seam, row.members) })),
  );
  const stagger = (apart > 0 ? opposed : []).flatMap(({ first, second }) =>
    apartRows(seams[first]!, seams[second]!, apart).map(({ own, others }): Choice => ({
      members: [...itemsAt(first, [own]), ...itemsAt(second, others)],
      atMost: 1,
    })),
  );
  const clear = (spread ? seams : []).flatMap(({ sites, tackLength }, seam) =>
    sites.map(({ start }): Choice => {
      const near = sites.flatMap((other, i) =>
        other.start > start - 1e-6 && other.start < start + 2 * tackLength - 1e-6 ? [i] : [],
      );
      return { members: itemsAt(seam, near), atMost: 1 };
    }),
  );
  return { items, costs: items.map(({ cost }) => cost), choices: [...rows, ...stagger, ...clear] };
}

/**
 * The programs of a joint in the order in which they are tried; each answers where those before it do not. `spread` as in
 * what a program asks for.
 */
export function jointPrograms(
  seams: readonly SeamCover[],
  counts: readonly number[],
  sides: Sides,
  spread = false,
): readonly (() => JointProgram)[] {
  const tack = DEAREST * counts.reduce((sum, count) => sum + count, 0) + 1;
  const program = (as: Sides, apart: number) => (): JointProgram =>
    jointProgram(seams, { sides: as, tack, apart, spread });
  if (sides === 'free') return [program('free', 0)];
  if (sides === 'paired') return [program('paired', 0), program('free', 0)];
  // Half of the pitch that so many tacks can have, a quarter of it, or that they do not face each other.
  const pitch = Math.min(...seams.map((seam, i) => Math.min(seam.pitch, seam.seamLength / counts[i]!)));
  const longest = Math.max(...seams.map(({ tackLength }) => tackLength));
  const distances = [...[pitch / 2, pitch / 4].filter((distance) => distance > longest), longest];
  return [...distances.map((apart) => program('staggered', apart)), program('free', 0)];
}

/** A joint whose seams have few enough sites for a program, and on each the least number of tacks. */
export interface SmallJoint {
  readonly seams: readonly SeamCover[];
  readonly counts: readonly number[];
  /** By seam: numbers of sites, a set of the fewest. */
  readonly walks: readonly (readonly number[])[];
}

/** Undefined when some seam cannot be covered. Long seams keep what the walks along either side need, so no tack is added. */
export function smallJoint(seams: readonly SeamCover[]): SmallJoint | undefined {
  const walks: (readonly number[])[] = [];
  for (const seam of seams) {
    const walk = fewestTacks(seam);
    if (walk === undefined) return undefined;
    walks.push(walk);
  }
  const wanted = walks.map((walk) => [...walk]);
  for (const { first, second } of opposedSeams(seams.map(({ run }) => run)))
    for (const [i, j] of pairsOf(seams[first]!, seams[second]!)) {
      if (walks[first]!.includes(i)) wanted[second]!.push(j);
      if (walks[second]!.includes(j)) wanted[first]!.push(i);
    }
  const kept = seams.map((seam, i) => thinned(seam, wanted[i]!));
  return {
    seams: seams.map((seam, i) => ({
      ...seam,
      sites: kept[i]!.map((site) => seam.sites[site]!),
      whileHeld: kept[i]!.map((site) => seam.whileHeld[site]!),
      ...(seam.must && {
        must: seam.must.map((set) => kept[i]!.flatMap((site, at) => (set.includes(site) ? [at] : []))),
      }),
    })),
    counts: walks.map(({ length }) => length),
    walks: walks.map((walk, i) => walk.map((site) => kept[i]!.indexOf(site))),
  };
}

/** How long the solver's second opinion may take where another program is tried after it, in steps. */
const PATIENCE = 2000;

/** Sites by seam. */
type Taken = readonly (readonly number[])[];

/** The sites that a program takes, by seam, if they are as few as can be; undefined where it gives no such answer. */
function taken(program: JointProgram, counts: readonly number[]): Taken | undefined {
  const outcome = cover(program, PATIENCE);
  if (outcome.status !== 'optimal') return undefined;
  const places = outcome.chosen.flatMap((item) => program.items[item]!.places);
  const bySeam = counts.map((_, seam) =>
    places.flatMap((place) => (place.seam === seam ? [place.site] : [])).sort((a, b) => a - b),
  );
  return bySeam.every((sites, seam) => sites.length === counts[seam]!) ? bySeam : undefined;
}

/**
 * The fewest tacks that respect length, pitch, ends and least number on every seam of a joint, by one 0/1 program; among
 * equal numbers those that can be laid while the part is held, that leave the length of a tack between them, that lie to those
 * on the other side as is wished, and that are near the ends. By seam; undefined when some seam cannot be covered. Should the solver give no answer that is as few as a
 * walk along each seam finds, the tacks of that walk are taken.
 */
export function coverJoint(
  seams: readonly SeamCover[],
  sides: Sides,
): readonly (readonly TackSite[])[] | undefined {
  const small = smallJoint(seams);
  if (small === undefined) return undefined;
  const sitesOf = (numbers: readonly (readonly number[])[]): readonly (readonly TackSite[])[] =>
    numbers.map((sites, seam) => sites.map((site) => small.seams[seam]!.sites[site]!));
  const first = (spread: boolean): Taken | undefined => {
    for (const program of jointPrograms(small.seams, small.counts, sides, spread)) {
      const found = taken(program(), small.counts);
      if (found) return found;
    }
    return undefined;
  };
  const held = (found: Taken): number =>
    found.reduce(
      (sum, sites, seam) => sum + sites.filter((site) => small.seams[seam]!.whileHeld[site]).length,
      0,
    );
  const near = first(false) ?? small.walks;
  const spread = small.counts.some((count) => count > 1) ? first(true) : undefined;
  return sitesOf(spread && held(spread) >= held(near) ? spread : near);
}

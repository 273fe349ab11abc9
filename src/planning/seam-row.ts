import type { Choice } from '../algorithms/covering.js';
import type { Facts } from '../facts/facts.js';
import { seamThicknesses, type Joint, type JointSeam } from '../facts/joints.js';
import type { TackSite } from '../facts/tack-sites.js';
import type { SeamRun } from '../model/seam-relations.js';
import { endMargin, largestPitch, type TackSettings } from '../model/tack-settings.js';

/** A seam to be covered: candidate sites in order along it, and which of them can be laid while the part is held. */
export interface SeamCover {
  /** The seam as it runs in the weldment. */
  readonly run: SeamRun;
  readonly seamLength: number;
  readonly tackLength: number;
  /** Largest distance between the middles of neighbouring tacks, mm. */
  readonly pitch: number;
  /** Least number of tacks. */
  readonly least: number;
  readonly sites: readonly TackSite[];
  /** By site: may be laid while the part is held; such sites are preferred. */
  readonly whileHeld: readonly boolean[];
  /** Sets of sites, by number, each of which must have a tack: what is wished. */
  readonly must?: readonly (readonly number[])[] | undefined;
}

/** Rounding of places along a seam, mm. */
const GRAIN = 1e-6;

export const middleOf = ({ start, length }: Pick<TackSite, 'start' | 'length'>): number => start + length / 2;

/** A seam with the sites that are open on it, and by site whether it can be laid while the part is held. */
export function seamCover(
  facts: Facts,
  joint: Joint,
  seam: JointSeam,
  sites: readonly TackSite[],
  whileHeld: readonly boolean[],
): SeamCover {
  const { tacks } = facts.settings;
  const thinner = Math.min(...seamThicknesses(facts.scene, joint, seam));
  const tackLength = facts.tackLength(joint, seam);
  return {
    run: seam,
    seamLength: seam.length,
    tackLength,
    pitch: largestPitch(tacks, thinner),
    least: leastOn(seam.length, tackLength, tacks),
    sites,
    whileHeld,
  };
}

/** The least number of tacks on a seam: what the settings ask for, or as many as there is room for, but one. */
function leastOn(seamLength: number, tackLength: number, tacks: TackSettings): number {
  const fit = Math.floor((seamLength - 2 * endMargin(tacks)) / tackLength + GRAIN);
  return Math.max(1, Math.min(tacks['least-number'], fit));
}

/** What a set of sites must keep to, by numbers of sites: pitch, ends, least number, and no two at one place. */
export function seamChoices({ seamLength, tackLength, pitch, least, sites, must = [] }: SeamCover): Choice[] {
  const middles = sites.map(middleOf);
  const between = (low: number, high: number): number[] =>
    middles.flatMap((m, i) => (m > low + GRAIN && m <= high + GRAIN ? [i] : []));
  const anchors = [-GRAIN * 2, ...middles].filter((anchor) => anchor + pitch < seamLength - GRAIN);
  const windows = anchors.map((anchor) => ({ members: between(anchor, anchor + pitch), atLeast: 1 }));
  const lastWindow = { members: between(seamLength - pitch - 2 * GRAIN, seamLength), atLeast: 1 };
  const apart = sites.map(({ start }) => ({
    members: sites.flatMap((other, i) =>
      other.start >= start - GRAIN && other.start < start + tackLength - GRAIN ? [i] : [],
    ),
    atMost: 1,
  }));
  const wished = must.map((members) => ({ members, atLeast: 1 }));
  return [...windows, lastWindow, { members: sites.map((_, i) => i), atLeast: least }, ...apart, ...wished];
}

/**
 * A set of the fewest sites that keep to all this, by numbers of sites in order; undefined when there is none. A seam is a
 * line, so a walk along it, one round for each tack, knows both without a program.
 */
export function fewestTacks({
  seamLength,
  tackLength,
  pitch,
  least,
  sites,
  must = [],
}: SeamCover): number[] | undefined {
  const middles = sites.map(middleOf);
  const ends = (i: number): boolean => middles[i]! > seamLength - pitch - GRAIN;
  const musts = new MustWalk(sites.length, must);
  // Ways that end at the same site and have met the same wishes are alike: the first of them is kept.
  let reached = new Map<number, Walk>();
  middles.forEach((m, i) => {
    const met = musts.with(0, i);
    if (m <= pitch + GRAIN && met !== undefined)
      reached.set(i + sites.length * met, { end: i, met, way: [i] });
  });
  for (let count = 1; reached.size > 0; count += 1) {
    const done = [...reached.values()].find(({ end, met }) => count >= least && musts.all(met) && ends(end));
    if (done) return [...done.way];
    const next = new Map<number, Walk>();
    for (const { end, met, way } of reached.values())
      for (let j = end + 1; j < sites.length && middles[j]! <= middles[end]! + pitch + GRAIN; j += 1) {
        if (sites[j]!.start < sites[end]!.start + tackLength - GRAIN) continue;
        const then = musts.with(met, j);
        if (then === undefined) continue;
        const key = j + sites.length * then;
        if (!next.has(key)) next.set(key, { end: j, met: then, way: [...way, j] });
      }
    reached = next;
  }
  return undefined;
}

/** Which of the sets of sites that must have a tack have one along a walk: any number of them, each state known by a number. */
class MustWalk {
  /** By state, the sets that are met, as bits; state 0 has met none. */
  private readonly states: bigint[] = [0n];
  private readonly numbers = new Map<bigint, number>([[0n, 0]]);
  /** By site, the sets that a tack there meets, and those that no later site can meet. */
  private readonly meets: readonly bigint[];
  private readonly due: readonly bigint[];
  private readonly whole: bigint;

  constructor(sites: number, must: readonly (readonly number[])[]) {
    const meets = new Array<bigint>(sites).fill(0n);
    const due = new Array<bigint>(sites).fill(0n);
    must.forEach((set, k) => {
      const bit = 1n << BigInt(k);
      for (const site of set) meets[site]! |= bit;
      for (let site = Math.max(0, ...set); site < sites; site += 1) due[site]! |= bit;
    });
    this.meets = meets;
    this.due = due;
    this.whole = (1n << BigInt(must.length)) - 1n;
  }

  all(state: number): boolean {
    return this.states[state] === this.whole;
  }

  /** The state after a further tack; undefined where a set is left behind for good. */
  with(state: number, site: number): number | undefined {
    const [meets, due] = [this.meets[site]!, this.due[site]!];
    if (meets === 0n && due === 0n) return state;
    const met = this.states[state]! | meets;
    if ((due & ~met) !== 0n) return undefined;
    const known = this.numbers.get(met);
    if (known !== undefined) return known;
    this.numbers.set(met, this.states.length);
    return this.states.push(met) - 1;
  }
}

interface Walk {
  readonly end: number;
  /** Which of the wished sets have a tack, as a state of `MustWalk`. */
  readonly met: number;
  readonly way: readonly number[];
}

/** A program has about this many sites of one seam at most, and those that must be among them. */
const MOST_SITES = 40;

/**
 * Numbers of the sites of a seam that go into a program, so that it stays small: all, or of a long seam the middlemost site
 * in each of as many equal stretches, and those that are `wanted`.
 */
export function thinned({ sites, seamLength }: SeamCover, wanted: readonly number[]): readonly number[] {
  if (sites.length <= MOST_SITES) return sites.map((_, i) => i);
  const width = seamLength / MOST_SITES;
  const kept = new Set(wanted);
  for (let stretch = 0; stretch < MOST_SITES; stretch += 1) {
    const off = (i: number): number => Math.abs(middleOf(sites[i]!) - (stretch + 0.5) * width);
    const inside = sites.flatMap((_, i) => (off(i) <= width / 2 ? [i] : []));
    if (inside.length > 0) kept.add(inside.reduce((best, i) => (off(i) < off(best) - 1e-6 ? i : best)));
  }
  return [...kept].sort((a, b) => a - b);
}

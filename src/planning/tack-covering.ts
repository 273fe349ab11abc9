import { cover, type Choice } from '../algorithms/covering.js';
import type { TackSite } from '../facts/tack-sites.js';
import type { Settings } from '../model/settings.js';

/** A seam to be covered: candidate sites in order along it, and which of them can be laid while the part is held. */
export interface SeamCover {
  readonly seamLength: number;
  readonly tackLength: number;
  /** Largest distance between the middles of neighbouring tacks, mm. */
  readonly pitch: number;
  readonly sites: readonly TackSite[];
  /** By site: may be laid while the part is held; such sites are preferred. */
  readonly whileHeld: readonly boolean[];
}

/** Price of one tack, of a tack in the middle instead of at an end, and of one that must wait for the let-go. */
const TACK = 1000;
const MIDDLE = 20;
const AFTER_LET_GO = 60;
const GRAIN = 1e-6;

export const largestPitch = (thinner: number, settings: Settings): number =>
  Math.min(settings.tacks['pitch-thicknesses'] * thinner, settings.tacks['pitch-most']);

function choicesOf({ seamLength, tackLength, pitch, sites }: SeamCover, settings: Settings): Choice[] {
  const middles = sites.map(({ start, length }) => start + length / 2);
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
  const fit = Math.floor((seamLength - 2 * settings.tacks['end-distance']) / tackLength + GRAIN);
  const least = Math.max(1, Math.min(settings.tacks['least-number'], fit));
  return [...windows, lastWindow, { members: sites.map((_, i) => i), atLeast: least }, ...apart];
}

/**
 * The fewest tacks that respect length, pitch, ends and least number on one seam, by a 0/1 program; among equal
 * numbers those near the ends and those that can be laid while the part is held. Undefined when there are none.
 */
export function coverSeam(seam: SeamCover, settings: Settings): readonly TackSite[] | undefined {
  const { sites, seamLength } = seam;
  if (sites.length === 0) return undefined;
  const costs = sites.map(({ start, length }, i) => {
    const inward = 1 - Math.abs((2 * (start + length / 2)) / seamLength - 1);
    return TACK + Math.round(MIDDLE * inward) + (seam.whileHeld[i] ? 0 : AFTER_LET_GO);
  });
  const outcome = cover({ costs, choices: choicesOf(seam, settings) });
  return outcome.status === 'optimal' ? outcome.chosen.map((i) => sites[i]!) : undefined;
}

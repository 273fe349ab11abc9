import type { CoveringProgram } from '../../src/algorithms/covering.js';
import type { Program } from '../../src/algorithms/linear-program.js';
import { siteStarts, type TackSite } from '../../src/facts/tack-sites.js';
import type { SeamCover } from '../../src/planning/seam-row.js';

/** What a seam of a test is like; sites every `step` mm, those with a middle in `blocked` missing, in `notHeld` only after the let-go. */
export interface SeamWish {
  readonly length: number;
  readonly tack: number;
  readonly pitch: number;
  readonly least?: number;
  readonly step?: number;
  readonly blocked?: readonly (readonly [number, number])[];
  readonly notHeld?: readonly (readonly [number, number])[];
  /** The other side of an upright plate of 10 mm, laid the other way round. */
  readonly back?: boolean;
}

const within = (middle: number, stretches: readonly (readonly [number, number])[] = []): boolean =>
  stretches.some(([low, high]) => middle >= low && middle <= high);

/** A seam on one side of an upright plate along x, for the covering programs, which look at no more of a site than this. */
export function coveredSeam(wish: SeamWish): SeamCover {
  const { length, tack, back = false } = wish;
  const y = back ? 5 : -5;
  const ends = [
    [0, y, 0],
    [length, y, 0],
  ] as const;
  const sites = siteStarts(length, tack, 10, wish.step ?? 10)
    .map((start) => ({ start, length: tack }) as TackSite)
    .filter(({ start }) => !within(start + tack / 2, wish.blocked));
  return {
    run: { from: ends[back ? 1 : 0], to: ends[back ? 0 : 1], open: [0, back ? 0.7 : -0.7, 0.7] },
    seamLength: length,
    tackLength: tack,
    pitch: wish.pitch,
    least: wish.least ?? 2,
    sites,
    whileHeld: sites.map(({ start }) => !within(start + tack / 2, wish.notHeld)),
  };
}

/** A covering program for HiGHS. */
export const asMixedInteger = ({ costs, choices }: CoveringProgram): Program => ({
  columns: costs.map((cost) => ({ cost, lower: 0, upper: 1, integer: true })),
  rows: choices.map(({ members, atLeast, atMost }) => ({
    lower: atLeast ?? 0,
    upper: atMost ?? Infinity,
    entries: members.map((item) => [item, 1] as const),
  })),
});

import { dot, type Vec3 } from '../geometry/vector.js';

/** One error that adds to where something ends up: its source in words and how much, +- mm. */
export interface Contribution {
  readonly source: string;
  readonly mm: number;
}

/** How contributions add up; see `combined`. */
export type Combination = 'root-sum-square' | 'arithmetic';

/** How far a thing may be off its place, from one source. */
export interface Scatter {
  readonly source: string;
  /** +- mm, at either end of the thing. */
  readonly mm: number;
  /** +- degrees about `across`, where the source says its turn apart; otherwise `mm` holds at each end by itself. */
  readonly degrees?: number;
  /** Unit vector across which alone it is off; absent: in every direction. */
  readonly across?: Vec3;
}

/**
 * Root-sum-square for contributions that do not depend on one another, each a limit of the same confidence: the sum
 * has that confidence too. Arithmetic for the worst case. mm.
 */
export const combined = (chain: readonly Contribution[], how: Combination): number =>
  how === 'arithmetic'
    ? chain.reduce((sum, { mm }) => sum + mm, 0)
    : Math.sqrt(chain.reduce((sum, { mm }) => sum + mm * mm, 0));

/** Share of an error across one unit vector that shows along another: the sine of the angle between the two. */
const shareAlong = (across: Vec3 | undefined, direction: Vec3): number =>
  across === undefined ? 1 : Math.sqrt(Math.max(0, 1 - dot(across, direction) ** 2));

/** What scatters do along a unit direction; those that do nothing there are left out. */
const along = (scatters: readonly Scatter[], direction: Vec3): readonly Contribution[] =>
  scatters
    .map(({ source, mm, across }) => ({ source, mm: mm * shareAlong(across, direction) }))
    .filter(({ mm }) => mm > 1e-9);

/** What scatters do in the direction in which each does most. */
const atMost = (scatters: readonly Scatter[]): readonly Contribution[] =>
  scatters.filter(({ mm }) => mm > 0).map(({ source, mm }) => ({ source, mm }));

/**
 * The wedge that scatters open between two faces with the unit normal `direction`, at the far end of a contact
 * `length` mm long: a turn about `across` opens as much of its angle as lies in the contact plane.
 */
const wedge = (scatters: readonly Scatter[], direction: Vec3, length: number): readonly Contribution[] =>
  scatters
    .map(({ source, mm, degrees, across }) => ({
      source,
      mm:
        shareAlong(across, direction) *
        (degrees === undefined ? mm : length * Math.tan((degrees * Math.PI) / 180)),
    }))
    .filter(({ mm }) => mm > 1e-9);

/** How far cut edges are off, and the directions in which a part has rolled faces instead. */
export interface Cut extends Contribution {
  /** Unit; faces square to these are rolled and count as true. */
  readonly rolled: readonly Vec3[];
}

/** Two parts that shall meet: the one that is brought and the one in place. */
export interface Meeting {
  readonly own: readonly Scatter[];
  readonly other: { readonly name: string; readonly place: readonly Scatter[] };
  /** What the cut edges of the two parts add, that of the part that is brought first. */
  readonly cuts: readonly [Cut, Cut];
}

/** Cosine from which a face counts as square to a direction. */
const SQUARE = 0.999;

const plain = ({ source, mm }: Contribution): Contribution => ({ source, mm });

const placeOf = (
  { name }: Meeting['other'],
  errors: readonly Contribution[],
  how: Combination,
): Contribution => ({ source: `place of ${name}`, mm: combined(errors, how) });

/** Square to a contact with the unit normal `normal`: what opens a gap, or makes the parts clash. */
export const gapChain = ({ own, other, cuts }: Meeting, normal: Vec3, how: Combination): Contribution[] => [
  ...along(own, normal),
  ...cuts.filter(({ rolled }) => !rolled.some((way) => Math.abs(dot(way, normal)) > SQUARE)).map(plain),
  placeOf(other, along(other.place, normal), how),
];

/** Along a contact, in the worst direction of each source: where the part sits. */
export const inPlaneChain = ({ own, other, cuts }: Meeting, how: Combination): Contribution[] => [
  ...atMost(own),
  plain(cuts[0]),
  placeOf(other, atMost(other.place), how),
];

/** The gap at the far end of a contact `length` mm long that is flush at its near end. */
export const tiltChain = (
  { own, other }: Meeting,
  normal: Vec3,
  length: number,
  how: Combination,
): Contribution[] => [...wedge(own, normal, length), placeOf(other, wedge(other.place, normal, length), how)];

/** From the wire of a torch to a seam of the two parts, in the worst direction of each source. */
export const torchChain = (meeting: Meeting, torch: Contribution, how: Combination): Contribution[] => [
  ...inPlaneChain(meeting, how),
  torch,
];

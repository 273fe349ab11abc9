import { seededRandom } from '../base/random.js';
import { rounded } from '../base/order.js';
import type { Family, FamilyParameter } from '../model/family.js';

/** Steps between the ends of a range for which the file gives no resolution. Our choice. */
const STEPS = 64;
/** With more ranges than this not all corners are planned, since each more doubles them. Our choice. */
const MOST_CROSSED = 4;
/** Decimals of values between the ends of a range. */
const DIGITS = 9;

/** A range as steps from its low end; the last step may be shorter. */
export interface Axis {
  readonly name: string;
  readonly low: number;
  readonly high: number;
  readonly resolution: number;
  readonly steps: number;
}

/** A place in the ranges: how many steps from the low end of each. */
export type Place = readonly number[];

/** The parameters that have a range, in the order of the file. */
export const axesOf = ({ parameters }: Pick<Family, 'parameters'>): readonly Axis[] =>
  parameters.flatMap((parameter) => axisOf(parameter) ?? []);

function axisOf({ name, range }: FamilyParameter): Axis | undefined {
  if (range === undefined) return undefined;
  const { low, high } = range;
  const resolution = range.resolution ?? (high - low) / STEPS;
  // A last bit of the division shall not add a step of no length.
  const steps = Math.max(1, Math.ceil(rounded((high - low) / resolution, 6)));
  return { name, low, high, resolution, steps };
}

/** The values of the parameters with a range at a place. */
export const valuesAt = (axes: readonly Axis[], place: Place): Readonly<Record<string, number>> =>
  Object.fromEntries(
    axes.map(({ name, low, high, resolution, steps }, i) => [
      name,
      place[i]! >= steps ? high : rounded(low + place[i]! * resolution, DIGITS),
    ]),
  );

export const placeKey = (place: Place): string => place.join(' ');

/** The middle, to the step. */
export const middleOf = (axes: readonly Axis[]): Place => axes.map(({ steps }) => Math.round(steps / 2));

/**
 * The corners: every combination of the ends of up to four ranges. Of more, both ends of each with the others in the middle,
 * and all low and all high.
 */
export function cornersOf(axes: readonly Axis[]): readonly Place[] {
  if (axes.length === 0) return [];
  if (axes.length <= MOST_CROSSED)
    return axes.reduce<readonly Place[]>(
      (corners, { steps }) =>
        corners.flatMap((corner) => [
          [...corner, 0],
          [...corner, steps],
        ]),
      [[]],
    );
  const middle = middleOf(axes);
  const ends = axes.flatMap(({ steps }, i) => [0, steps].map((end) => middle.with(i, end)));
  return [axes.map(() => 0), ...ends, axes.map(({ steps }) => steps)];
}

/** Whether some corners are left out. */
export const cornersLeftOut = (axes: readonly Axis[]): boolean => axes.length > MOST_CROSSED;

/**
 * Places spread over the ranges by the seed: each range is cut into as many stretches as there are places, and every
 * stretch has one of them (Latin hypercube sampling). Those that are among `known`, or fall together, are left out.
 */
export function sampledPlaces(
  axes: readonly Axis[],
  many: number,
  seed: number,
  known: readonly Place[],
): readonly Place[] {
  if (axes.length === 0) return [];
  const random = seededRandom(seed);
  const along = axes.map(({ steps }) =>
    shuffled(many, random).map((stretch) => Math.round(((stretch + random()) / many) * steps)),
  );
  const seen = new Set(known.map(placeKey));
  return Array.from({ length: many }, (_, i) => along.map((column) => column[i]!)).filter((place) => {
    const key = placeKey(place);
    return !seen.has(key) && seen.add(key) !== undefined;
  });
}

/** 0 to `many` - 1 in an order of the generator. */
function shuffled(many: number, random: () => number): number[] {
  const order = Array.from({ length: many }, (_, i) => i);
  for (let i = many - 1; i > 0; i -= 1) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}

/** The place half-way, to the step; one of the two where nothing is between them. */
export const halfWay = (a: Place, b: Place): Place => a.map((step, i) => Math.round((step + b[i]!) / 2));

/** Whether two places are at most a step apart in each range. */
export const adjoin = (a: Place, b: Place): boolean => a.every((step, i) => Math.abs(step - b[i]!) <= 1);

/** How far apart two places are, each range counted as 1. */
export const distance = (axes: readonly Axis[], a: Place, b: Place): number =>
  Math.hypot(...axes.map(({ steps }, i) => (a[i]! - b[i]!) / steps));

/** Whether a place is not outside what two others span, in any range. */
export const between = (place: Place, a: Place, b: Place): boolean =>
  place.every((step, i) => step >= Math.min(a[i]!, b[i]!) && step <= Math.max(a[i]!, b[i]!));

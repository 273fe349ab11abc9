import type { Random } from '../../base/random.js';
import type { PathWindow } from './restricted.js';

export const NEIGHBOURHOODS = ['window', 'scattered', 'clusters', 'ways'] as const;

/**
 * What is freed: a run of places; places anywhere; places near a few ones; none, so that only ways may
 * change.
 */
export type NeighbourhoodKind = (typeof NEIGHBOURHOODS)[number];

export interface Neighbourhood {
  readonly window: PathWindow;
  /** The freed places of the path. */
  readonly places: readonly number[];
}

/** Clusters of near places. Our choice. */
const CLUSTERS = 3;

/** Draws a neighbourhood of `size` places of a path of `layers` moves; all places when there are no more. */
export function drawNeighbourhood(
  kind: NeighbourhoodKind,
  size: number,
  layers: number,
  random: Random,
): Neighbourhood {
  if (kind === 'ways') return { window: { from: 0, to: layers }, places: [] };
  if (kind === 'window' || size >= layers) {
    const length = Math.min(size, layers);
    const from = Math.floor(random() * (layers - length + 1));
    return spanned(Array.from({ length }, (_, i) => from + i));
  }
  return spanned(kind === 'scattered' ? scattered(size, layers, random) : clusters(size, layers, random));
}

function scattered(size: number, layers: number, random: Random): number[] {
  const places = new Set<number>();
  while (places.size < size) places.add(Math.floor(random() * layers));
  return [...places];
}

/** Runs of places, each of an equal share of the size. */
function clusters(size: number, layers: number, random: Random): number[] {
  const places = new Set<number>();
  const length = Math.ceil(size / CLUSTERS);
  while (places.size < size) {
    const from = Math.floor(random() * layers);
    for (let place = from; place < from + length && place < layers && places.size < size; place += 1)
      places.add(place);
  }
  return [...places];
}

function spanned(places: readonly number[]): Neighbourhood {
  return { window: { from: Math.min(...places), to: Math.max(...places) + 1 }, places };
}

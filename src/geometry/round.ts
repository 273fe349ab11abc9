import type { Point2 } from './outline.js';

/** A facet deviates from its circle by no more than this, mm, as long as MOST_FACETS are enough. Our own choice. */
export const ROUND_DEVIATION = 0.5;
const LEAST_FACETS = 12;
const MOST_FACETS = 48;

/**
 * How many flat facets stand for a circle: the least multiple of four, from 12 to 48, with which corners are at most
 * 0.5 mm off the circle. Beyond a radius of about 230 mm that is 48 facets and 0.22 % of the radius. A multiple of
 * four puts a facet square on each of the four axis directions.
 */
export function facetCount(radius: number): number {
  let count = LEAST_FACETS;
  while (count < MOST_FACETS && radius * (1 / Math.cos(Math.PI / count) - 1) > ROUND_DEVIATION) count += 4;
  return count;
}

function ring(radius: number, count: number, [u, v]: Point2): Point2[] {
  return Array.from({ length: count }, (_, i): Point2 => {
    const angle = ((2 * i - 1) * Math.PI) / count;
    return [u + radius * Math.cos(angle), v + radius * Math.sin(angle)];
  });
}

/**
 * The polygon round a circle whose sides touch it in their middles: what it bounds from outside is never taken for
 * smaller than it is. The first side looks along +u; counter-clockwise.
 */
export const roundOutline = (radius: number, count: number, centre: Point2 = [0, 0]): Point2[] =>
  ring(radius / Math.cos(Math.PI / count), count, centre);

/** The polygon in a circle whose corners lie on it: a hole is never taken for larger than it is. */
export const roundHole = (radius: number, count: number, centre: Point2 = [0, 0]): Point2[] =>
  ring(radius, count, centre);

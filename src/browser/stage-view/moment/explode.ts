import { dot, negate, ORIGIN, scale, subtract, type Vec3 } from '../../../geometry/vector.js';

/** Ways to pull the parts of a weldment apart. */
export const EXPLODE_WAYS = ['approach', 'base'] as const;
export type ExplodeWay = (typeof EXPLODE_WAYS)[number];

export interface ExplodedPart {
  readonly part: number;
  /** Middle of the part in its final place, mm. */
  readonly middle: Vec3;
  /** Direction of travel in which it came, unit; undefined of one that came in none. */
  readonly approach: Vec3 | undefined;
}

/** How far out the first part on a way is pulled, the next one more, and all together at most, in sizes of the weldment. */
const [NEAREST, APART, ALL_APART] = [0.1, 0.35, 1.4];
/** Parts that come within about 30 degrees of one another come the same way. */
const SAME_WAY = 0.87;

/**
 * How far each part is pulled out, mm, at full explosion, by the places in the list, which is in the order in which
 * parts join; the first stays. Along the approaches: back the way it came, each farther than the part before it on the
 * same way, so that the last to come is the first off. Away from the base: along the line of the middles.
 */
export function explodeOffsets(
  parts: readonly ExplodedPart[],
  way: ExplodeWay,
  size: number,
): readonly Vec3[] {
  const base = parts[0];
  return parts.map(({ middle, approach }, i) => {
    if (!base || i === 0) return ORIGIN;
    if (way === 'base') return subtract(middle, base.middle);
    if (!approach) return ORIGIN;
    const before = parts.filter((other, k) => k > 0 && k <= i && same(other.approach, approach)).length;
    return scale(negate(approach), size * (NEAREST + Math.min(APART, ALL_APART / parts.length) * before));
  });
}

const same = (a: Vec3 | undefined, b: Vec3): boolean => a !== undefined && dot(a, b) > SAME_WAY;

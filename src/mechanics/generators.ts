import type { Vec3 } from '../geometry/vector.js';
import { add, along, cross, perpendicular, scale } from '../geometry/vector.js';
import type { Link, Pad } from './system.js';

/** A disc under even pressure resists spin as if all friction acted at this share of its radius. */
const SPIN_RADIUS_SHARE = 2 / 3;

/** A direction that leans less than this off the vertical counts as vertical. */
const UPRIGHT = 1e-6;

/**
 * A unit vector square to a unit vector: level, so that directions that are mirror images or turned about the vertical
 * have frames that are so too; along an axis of the frame where the vector is upright.
 */
function levelAcross(v: Vec3): Vec3 {
  const level = Math.hypot(v[0], v[1]);
  return level > UPRIGHT ? [v[1] / level, -v[0] / level, 0] : perpendicular(v);
}

/**
 * Eight unit vectors square to a unit normal, every 45 degrees, in the same frame for the same normal. Their hull is
 * an octagon inscribed in the unit circle: exact along each of the eight, at least cos 22.5 deg = 0.924 between them.
 */
export function octagon(normal: Vec3): readonly Vec3[] {
  const x = levelAcross(normal);
  const y = cross(normal, x);
  const half = Math.SQRT1_2;
  return [
    [1, 0],
    [half, half],
    [0, 1],
    [-half, half],
    [-1, 0],
    [-half, -half],
    [0, -1],
    [half, -half],
  ].map(([c, s]) => add(scale(x, c!), scale(y, s!)));
}

/**
 * Edges of the friction pyramid inscribed in the Coulomb cone: a unit push along the normal with the friction that
 * it allows in each of eight directions. None without friction.
 */
export const frictionEdges = (normal: Vec3, friction: number): readonly Vec3[] =>
  friction > 0 ? octagon(normal).map((tangent) => along(normal, tangent, friction)) : [];

/** The two points of a tack at which its forces act: in-line moment capacity is then F L / 4, its plastic value. */
export const linkPoints = (link: Link): readonly [Vec3, Vec3] => [
  along(link.at, link.along, -link.length / 4),
  along(link.at, link.along, link.length / 4),
];

/** Six unit forces whose hull is an octahedron inscribed in the unit sphere, its axes along and across the tack. */
export function linkDirections(link: Link): readonly Vec3[] {
  const second = levelAcross(link.along);
  const third = cross(link.along, second);
  return [link.along, second, third].flatMap((axis) => [axis, scale(axis, -1)]);
}

/**
 * Points at which a pad touches, on two thirds of its radius: spin capacity is then 2/3 mu P R, as for a disc under
 * even pressure (integral of mu p r over the disc). The friction octagon at each point has a side-on direction, so
 * that the spin is exact.
 */
export const padPoints = (pad: Pad): readonly Vec3[] =>
  octagon(pad.normal).map((direction) => along(pad.at, direction, pad.radius * SPIN_RADIUS_SHARE));

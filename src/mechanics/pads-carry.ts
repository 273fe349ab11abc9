import { add, cross, dot, length, scale, subtract, type Vec3 } from '../geometry/vector.js';
import type { Hold, Pad } from './system.js';

/** Share of a friction circle that the inscribed octagon of the equilibrium programs keeps at worst. */
const OCTAGON = Math.cos(Math.PI / 8);
/** Cosine above which two pads face one way. */
const ONE_WAY = 1 - 1e-12;
/** Radius at which a pad's contact points lie, as a share of its own. */
const RIM = 2 / 3;

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/**
 * Whether pads of one hold carry a force (N) at a point (mm) for certain; never said of the opposed pads of a jaw, or
 * of any pad whose push is limited. A sufficient test for pads that all face one way: the
 * force is split into pull, shear, spin and tilt about the pads' middle, each has a force set of its own up to its
 * capacity, and forces that can be carried form a convex set, so shares that add up to at most one can be carried
 * together. False says nothing; the equilibrium program decides then.
 */
export function surelyCarried(pads: readonly Pad[], hold: Hold, force: Vec3, at: Vec3): boolean {
  const { normal } = pads[0]!;
  if (pads.some((pad) => pad.most !== undefined || dot(pad.normal, normal) < ONE_WAY)) return false;
  const middle = scale(pads.map((pad) => pad.at).reduce(add), 1 / pads.length);
  const pull = dot(force, normal);
  const moment = cross(subtract(at, middle), force);
  const spin = dot(moment, normal);
  const weakest = Math.min(...pads.map((pad) => pad.friction)) * OCTAGON;
  const total = sum(pads.map((pad) => pad.pull));
  const capacity = {
    pull: total,
    shear: weakest * total,
    spin: weakest * Math.max(sum(pads.map((pad) => pad.pull * distanceTo(middle, pad))), RIM * ownSpin(pads)),
    tilt: RIM * OCTAGON * ownSpin(pads),
  };
  const shares =
    Math.max(0, pull) / capacity.pull +
    length(subtract(force, scale(normal, pull))) / capacity.shear +
    Math.abs(spin) / capacity.spin +
    length(subtract(moment, scale(normal, spin))) / capacity.tilt;
  const wrench = cross(subtract(at, hold.at), force);
  return (
    shares <= 1 &&
    force.every((x) => Math.abs(x) <= hold.force) &&
    wrench.every((x) => Math.abs(x) <= hold.moment)
  );
}

const distanceTo = (point: Vec3, pad: Pad): number => length(subtract(pad.at, point));
const ownSpin = (pads: readonly Pad[]): number => sum(pads.map((pad) => pad.pull * pad.radius));

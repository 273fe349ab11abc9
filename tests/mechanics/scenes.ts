import type { Vec3 } from '../../src/geometry/vector.js';
import type { Bearing, Body, Disturbance, Link, Pad, System } from '../../src/mechanics/system.js';
import { GROUND } from '../../src/mechanics/system.js';

/** A system with everything left out that a test does not name. */
export const systemOf = (parts: Partial<System>): System => ({
  bodies: [],
  bearings: [],
  links: [],
  pads: [],
  holds: [],
  ...parts,
});

export const bodyAt = (centre: Vec3, mass = 1): Body => ({ mass, centre });

/** Corners of a rectangle at height z. */
export const rectangle = (x: readonly [number, number], y: readonly [number, number], z: number): Vec3[] => [
  [x[0], y[0], z],
  [x[1], y[0], z],
  [x[1], y[1], z],
  [x[0], y[1], z],
];

/** A bearing from ground upward into body 0, unless told otherwise. */
export const bearingOf = (corners: readonly Vec3[], more: Partial<Bearing> = {}): Bearing => ({
  a: GROUND,
  b: 0,
  corners,
  normal: [0, 0, 1],
  friction: 0.5,
  preload: 0,
  ...more,
});

/** A tack of 40 mm along x between ground and body 0, unless told otherwise. */
export const linkAt = (at: Vec3, more: Partial<Link> = {}): Link => ({
  a: GROUND,
  b: 0,
  at,
  along: [1, 0, 0],
  length: 40,
  strength: 29_000,
  ...more,
});

/** A pad of 50 mm radius above body 0, pressing down on it, unless told otherwise. */
export const padAt = (at: Vec3, more: Partial<Pad> = {}): Pad => ({
  body: 0,
  hold: 0,
  at,
  normal: [0, 0, -1],
  radius: 50,
  pull: 500,
  friction: 0.2,
  ...more,
});

export const push = (force: Vec3, at: Vec3, body = 0): Disturbance => ({
  name: 'push',
  forces: [{ body, force, at }],
});

/** A pure couple of size `moment` N mm about z. */
export const twist = (moment: number, body = 0): Disturbance => ({
  name: 'twist',
  forces: [
    { body, force: [0, moment, 0], at: [0.5, 0, 0] },
    { body, force: [0, -moment, 0], at: [-0.5, 0, 0] },
  ],
});

export const WEIGHT_OF_ONE = 9.80665;

/** Gravity turned by an angle in degrees towards +x, as on a plane that falls that way. */
export const tilted = (degrees: number): NonNullable<System['gravity']> => {
  const angle = (degrees * Math.PI) / 180;
  return { direction: [Math.sin(angle), 0, -Math.cos(angle)], acceleration: WEIGHT_OF_ONE };
};

import type { Vec3 } from '../geometry/vector.js';
import { along, cross, dot, length, negate, scale, subtract } from '../geometry/vector.js';
import { linkPoints, padPoints } from './generators.js';
import type { Disturbance, System } from './system.js';
import { gravityOf } from './system.js';
import type { ForceSet } from './verdict.js';

/** By how much a set of forces misses each kind of condition at worst; zero or rounding when it is sound. */
export interface Residuals {
  /** Greatest force left over on any body, N. */
  readonly force: number;
  /** Greatest moment left over on any body about its centre, N m. */
  readonly moment: number;
  /** Greatest pull at a point that can only push, or friction beyond the Coulomb cone there, N. */
  readonly cone: number;
  /** Greatest excess of a tack half over half its strength, or of a pad over its greatest push, N. */
  readonly strength: number;
  /** Greatest excess of a hold over a force limit, N, or over a moment limit, N m. */
  readonly hold: number;
  /** Greatest excess of friction, of a whole bearing over what step 1 and clamping allow, of a pad over its pull, N. */
  readonly friction: number;
  /** The greatest of all. */
  readonly worst: number;
}

/** What the forces are held against. */
export interface ResidualContext {
  readonly disturbance?: Disturbance | undefined;
  /** The forces of step 1; without them the friction of whole patches is not judged. */
  readonly gravityForces?: ForceSet | undefined;
}

interface Load {
  readonly body: number;
  readonly force: Vec3;
  readonly at: Vec3;
}

/**
 * Puts forces back into the equations of a system: balance of every body, cones, strengths, hold limits, friction
 * bounds. Works from the system alone and with true circles and spheres, not from any program, so that it can
 * witness against one.
 */
export function residuals(system: System, forces: ForceSet, context: ResidualContext = {}): Residuals {
  const loads = loadsOn(system, forces, context.disturbance);
  const balance = system.bodies.map(({ centre }, body) => leftOver(loads, body, centre));
  const found = {
    force: greatest(balance.map((sum) => sum.force)),
    moment: greatest(balance.map((sum) => sum.moment)),
    cone: coneExcess(system, forces),
    strength: greatest([
      ...system.links.flatMap((link, i) =>
        forces.links[i]!.map((force) => length(force) - link.strength / 2),
      ),
      ...system.pads.map(({ normal, most = Infinity }, i) => dot(sumOf(forces.pads[i]!), normal) - most),
    ]),
    hold: greatest(system.holds.flatMap((_, index) => holdExcess(system, forces, index))),
    friction: context.gravityForces ? frictionExcess(system, forces, context.gravityForces) : 0,
  };
  return { ...found, worst: greatest(Object.values(found)) };
}

const greatest = (list: readonly number[]): number => list.reduce((a, b) => Math.max(a, b), 0);

const pressedApart = (force: Vec3, normal: Vec3, total: number, count: number): Vec3 =>
  along(force, normal, -total / Math.max(1, count));

/** Every force on every body; reactions on ground and on holds carry the body number they were given. */
function loadsOn(system: System, forces: ForceSet, disturbance: Disturbance | undefined): Load[] {
  const { direction, acceleration } = gravityOf(system);
  const both = (a: number, b: number, force: Vec3, at: Vec3): Load[] => [
    { body: b, force, at },
    { body: a, force: negate(force), at },
  ];
  return [
    ...system.bodies.map(({ mass, centre }, body) => ({
      body,
      force: scale(direction, mass * acceleration * forces.gravity),
      at: centre,
    })),
    ...(disturbance?.forces ?? []).map((load) => ({ ...load, force: scale(load.force, forces.disturbance) })),
    ...system.bearings.flatMap(({ a, b, corners, normal, preload }, i) =>
      corners.flatMap((at, k) =>
        both(a, b, pressedApart(forces.bearings[i]![k]!, normal, preload, corners.length), at),
      ),
    ),
    ...system.links.flatMap((link, i) =>
      linkPoints(link).flatMap((at, k) => both(link.a, link.b, forces.links[i]![k]!, at)),
    ),
    ...system.pads.flatMap((_, i) => padLoads(system, forces, i)),
  ];
}

function padLoads(system: System, forces: ForceSet, index: number): Load[] {
  const pad = system.pads[index]!;
  const points = padPoints(pad);
  return points.map((at, k) => ({
    body: pad.body,
    force: pressedApart(forces.pads[index]![k]!, pad.normal, pad.pull, points.length),
    at,
  }));
}

const sumOf = (vectors: readonly Vec3[]): Vec3 =>
  vectors.reduce<Vec3>((sum, vector) => along(sum, vector, 1), [0, 0, 0]);

const momentAbout = (loads: readonly Load[], about: Vec3): Vec3 =>
  scale(sumOf(loads.map(({ force, at }) => cross(subtract(at, about), force))), 1e-3);

function leftOver(loads: readonly Load[], body: number, centre: Vec3): { force: number; moment: number } {
  const own = loads.filter((load) => load.body === body);
  return { force: length(sumOf(own.map(({ force }) => force))), moment: length(momentAbout(own, centre)) };
}

const tangent = (force: Vec3, normal: Vec3): number => length(along(force, normal, -dot(force, normal)));

function coneExcess(system: System, forces: ForceSet): number {
  const excess = (force: Vec3, normal: Vec3, friction: number): number =>
    Math.max(-dot(force, normal), tangent(force, normal) - friction * Math.max(0, dot(force, normal)));
  return greatest([
    ...system.bearings.flatMap(({ normal, friction }, i) =>
      forces.bearings[i]!.map((force) => excess(force, normal, friction)),
    ),
    ...system.pads.flatMap(({ normal, friction }, i) =>
      forces.pads[i]!.map((force) => excess(force, normal, friction)),
    ),
  ]);
}

function holdExcess(system: System, forces: ForceSet, index: number): number[] {
  const hold = system.holds[index]!;
  const loads = system.pads.flatMap((pad, i) => (pad.hold === index ? padLoads(system, forces, i) : []));
  return [
    ...sumOf(loads.map(({ force }) => force)).map((value) => Math.abs(value) - hold.force),
    ...momentAbout(loads, hold.at).map((value) => Math.abs(value) - hold.moment * 1e-3),
  ];
}

function frictionExcess(system: System, forces: ForceSet, step1: ForceSet): number {
  const excess = (
    list: readonly Vec3[],
    first: readonly Vec3[],
    normal: Vec3,
    friction: number,
    declared: number,
  ) =>
    list.reduce((sum, force) => sum + tangent(force, normal), 0) -
    friction * Math.max(declared, dot(sumOf(first), normal));
  return greatest([
    ...system.bearings.map(({ normal, friction, preload }, i) =>
      excess(forces.bearings[i]!, step1.bearings[i]!, normal, friction, preload),
    ),
    ...system.pads.map(({ normal, friction, pull }, i) =>
      excess(forces.pads[i]!, [], normal, friction, pull),
    ),
  ]);
}

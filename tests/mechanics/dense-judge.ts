import { cross, subtract, type Vec3 } from '../../src/geometry/vector.js';
import { pressedByGravity, sides, without } from '../../src/mechanics/gravity-friction.js';
import type { Bearing, Disturbance, Link, Pad, System } from '../../src/mechanics/system.js';
import { WEIGHT_OF_ONE } from './scenes.js';
import { greatestFactor, leastSum, patch, tack, type Bound, type Outside, type Push } from './witness.js';

/** What each bearing and each pad is pressed with, N, as far as friction may count on it; Infinity for no bound. */
interface Pressed {
  readonly bearings: readonly number[];
  readonly pads: readonly number[];
}

interface Scheme {
  readonly pushes: readonly Push[];
  readonly bounds: readonly Bound[];
  /** Clamping and pull. */
  readonly constant: readonly Outside[];
  /** Normal pushes of the bearings. */
  readonly normals: readonly number[];
}

const DECIMETRE = 0.01;

/** A frame of right angles whose third axis is given; that axis must lie along one of the cell. */
export const frameOf = (third: Vec3): [Vec3, Vec3, Vec3] => {
  const first: Vec3 = third[0] === 0 ? [1, 0, 0] : [0, 1, 0];
  return [first, cross(third, first), third];
};

const away = (point: Vec3, way: Vec3, by: number): Vec3 =>
  point.map((value, i) => value + by * way[i]!) as unknown as Vec3;

/** The eight points of a pad, on two thirds of its radius. */
const discPoints = ({ at, normal, radius }: Pad): Vec3[] => {
  const [x, y] = frameOf(normal);
  return Array.from({ length: 8 }, (_, k) => {
    const [c, s] = [Math.cos((k * Math.PI) / 4), Math.sin((k * Math.PI) / 4)];
    return away(away(at, x, (c * radius * 2) / 3), y, (s * radius * 2) / 3);
  });
};

/** A whole system written out anew for the dense simplex; every normal and every tack lies along an axis of the cell. */
function schemeOf(system: System, pressed: Pressed): Scheme {
  const pushes: Push[] = [];
  const bounds: Bound[] = [];
  const constant: Outside[] = [];
  const normals: number[] = [];
  const bearing = ({ corners, normal, friction, preload, a, b }: Bearing, i: number): void => {
    const more = patch(pushes.length, corners, frameOf(normal), friction, pressed.bearings[i]!, b, a);
    corners.forEach((at, k) => {
      normals.push(pushes.length + 9 * k);
      const force = normal.map((value) => (-value * preload) / corners.length) as unknown as Vec3;
      constant.push({ on: b, force, at });
      constant.push({ on: a, force: force.map((value) => -value) as unknown as Vec3, at });
    });
    pushes.push(...more.pushes);
    bounds.push(...more.bounds);
  };
  const link = ({ at, along, length, strength, a, b }: Link): void => {
    const points = [-1, 1].map((side) => away(at, along, (side * length) / 4));
    const more = tack(pushes.length, points, frameOf(along), strength, b, a);
    pushes.push(...more.pushes);
    bounds.push(...more.bounds);
  };
  const held = system.holds.map(() => [] as { readonly push: number | undefined; readonly part: number[] }[]);
  const pad = (one: Pad, i: number): void => {
    const about = system.holds[one.hold]!.at;
    const partOf = (force: Vec3, at: Vec3): number[] => [
      ...force,
      ...cross(subtract(at, about), force).map((value) => value * DECIMETRE),
    ];
    const points = discPoints(one);
    const more = patch(
      pushes.length,
      points,
      frameOf(one.normal),
      one.friction,
      pressed.pads[i]!,
      one.body,
      -1,
    );
    more.pushes.forEach(({ force, at }, k) =>
      held[one.hold]!.push({ push: pushes.length + k, part: partOf(force, at) }),
    );
    for (const at of points) {
      const force = one.normal.map((value) => (-value * one.pull) / points.length) as unknown as Vec3;
      constant.push({ on: one.body, force, at });
      held[one.hold]!.push({ push: undefined, part: partOf(force, at) });
    }
    pushes.push(...more.pushes);
    bounds.push(...more.bounds);
  };
  system.bearings.forEach(bearing);
  system.links.forEach(link);
  system.pads.forEach(pad);
  system.holds.forEach(({ force, moment }, hold) => {
    if (held[hold]!.length === 0) return;
    for (let axis = 0; axis < 6; axis += 1)
      for (const sign of [1, -1]) {
        const limit = axis < 3 ? force : moment * DECIMETRE;
        const given = held[hold]!.filter(({ push }) => push === undefined);
        bounds.push({
          weights: held[hold]!.flatMap(({ push, part }) =>
            push === undefined ? [] : [[push, sign * part[axis]!] as const],
          ),
          limit: limit - sign * given.reduce((sum, { part }) => sum + part[axis]!, 0),
        });
      }
  });
  return { pushes, bounds, constant, normals };
}

const weightsOf = ({ bodies }: System): Outside[] =>
  bodies.map(({ mass, centre }, on) => ({ on, force: [0, 0, -mass * WEIGHT_OF_ONE], at: centre }));

const gravityFactor = (system: System, pressed: Pressed): number => {
  const { pushes, bounds, constant } = schemeOf(system, pressed);
  return greatestFactor(system.bodies.length, pushes, bounds, constant, weightsOf(system)) ?? 0;
};

/** What friction may count on in step 1 (design section 6), with the bearings that are in doubt taken as told. */
const pressedAtRest = (system: System, trusted: (lower: number) => boolean): Pressed => ({
  bearings: system.bearings.map((bearing) => {
    const known = pressedByGravity(system, bearing);
    const free = known === 'sure' || (known === 'perhaps' && trusted(sides(system, bearing).lower));
    return free ? Infinity : bearing.preload;
  }),
  pads: system.pads.map(({ pull }) => pull),
});

const STANDS = 1 - 1e-7;

function standingWithout(system: System, body: number): number {
  const rest = without(system, body);
  return gravityFactor(
    rest,
    pressedAtRest(rest, () => true),
  );
}

/**
 * Step 1 by the dense simplex: the greatest factor of gravity, and the least sum of normal forces at factor one. Not a
 * number where the simplex could not prove its answer.
 */
export function denseGravity(system: System): {
  readonly factor: number;
  readonly least: number | undefined;
} {
  let pressed = pressedAtRest(system, () => false);
  let factor = gravityFactor(system, pressed);
  if (factor < STANDS) {
    const alone = system.bodies.map((_, body) => standingWithout(system, body));
    if (alone.some(Number.isNaN)) return { factor: NaN, least: undefined };
    const needed = new Set(alone.flatMap((value, body) => (value < STANDS ? [body] : [])));
    pressed = pressedAtRest(system, (lower) => needed.has(lower));
    factor = gravityFactor(system, pressed);
  }
  if (!(factor >= STANDS)) return { factor, least: undefined };
  const { pushes, bounds, constant, normals } = schemeOf(system, pressed);
  const outside = [...constant, ...weightsOf(system)];
  return { factor, least: leastSum(system.bodies.length, pushes, bounds, outside, normals) };
}

/** Step 2 by the dense simplex: the greatest factor of a disturbance, with what step 1 pressed each bearing with, N. */
export function denseReserve(
  system: System,
  { forces }: Disturbance,
  pressed: readonly number[],
): number | undefined {
  const counted: Pressed = {
    bearings: pressed.map((value, i) => Math.max(value, system.bearings[i]!.preload)),
    pads: system.pads.map(({ pull }) => pull),
  };
  const { pushes, bounds, constant } = schemeOf(system, counted);
  const load = forces.map(({ body, force, at }) => ({ on: body, force, at }));
  return greatestFactor(system.bodies.length, pushes, bounds, [...constant, ...weightsOf(system)], load);
}

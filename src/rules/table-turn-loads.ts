import { axisX } from '../geometry/pose.js';
import { add, along, cross, scale, subtract, type Vec3 } from '../geometry/vector.js';
import type { Scene } from '../model/scene.js';
import { piecesOf, type Piece } from './bodies.js';
import type { PartLoad } from './load-cases.js';

const UP: Vec3 = [0, 0, 1];
const RADIANS = Math.PI / 180;

/** A mass at a point; kg, cell frame, mm. */
interface PointMass {
  readonly mass: number;
  readonly at: Vec3;
}

/**
 * A piece as two halves of its mass, level to both sides of its centre at its radius of gyration about the vertical:
 * the same centre, and the same resistance to being turned about any vertical axis. What a leaning part would tilt by
 * as its upper end is flung out (its products of inertia) is left out.
 */
function halves(scene: Scene, { solid, mass }: Piece): readonly PointMass[] {
  const gyration = Math.sqrt(solid.inertia[8] / solid.volume);
  const level = axisX(scene.cell.weldmentPose.turn);
  return [gyration, -gyration].map((way) => ({ mass: mass / 2, at: along(solid.centre, level, way) }));
}

/**
 * What all parts on a table that turns carry at once, as d'Alembert forces on their masses, N: m alpha r against the
 * way of turning while the table gains speed, with it while it stops, and m omega2 r outward. With the sum of both at
 * full speed and the first alone at rest, both ways round, every moment between is carried too, since loads that a
 * system carries form a convex set; full speed, also where a turn is too short to get up to it. None for a table that
 * stands still.
 */
export function tableTurnLoads(scene: Scene, parts: readonly number[]): PartLoad[] {
  const { turntable } = scene.cell.table;
  if (turntable === undefined) return [];
  const { speed, acceleration, axis } = turntable;
  // rad/s2 and 1/s2 times mm are mm/s2; a thousand of them a kilogram make a newton.
  const [gaining, outward] = [(acceleration * RADIANS) / 1000, (speed * RADIANS) ** 2 / 1000];
  const centre: Vec3 = [axis[0], axis[1], 0];
  const masses = parts
    .flatMap((part) => piecesOf(scene, part))
    .flatMap((piece) => halves(scene, piece).map((half) => ({ ...half, piece })));
  const loads = ([1, -1] as const).flatMap((sign) =>
    (['from rest', 'at full speed'] as const).map((when) => ({ sign, when })),
  );
  return loads.map(({ sign, when }) => ({
    name: `table turn ${sign > 0 ? 'left' : 'right'} ${when}`,
    forces: masses.map(({ piece: { part, member }, mass, at }) => {
      const [x, y] = subtract(at, centre);
      const out: Vec3 = [x, y, 0];
      const lag = scale(cross(UP, out), -sign * gaining * mass);
      return { part, member, at, force: when === 'from rest' ? lag : add(lag, scale(out, outward * mass)) };
    }),
  }));
}

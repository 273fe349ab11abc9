import type { LinearPrograms } from '../algorithms/linear-program.js';
import { axisX, compose, IDENTITY, inverse, place, type Pose } from '../geometry/pose.js';
import { add, cross, dot, negate, scale, type Vec3 } from '../geometry/vector.js';
import { forward } from '../kinematics/forward.js';
import { judge } from '../mechanics/equilibrium.js';
import { movedDisturbance } from '../mechanics/moved-system.js';
import type { Disturbance } from '../mechanics/system.js';
import { gripFlange, padsInCell } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { hangingSystem, type HeldPart } from './assembly.js';

const UP: Vec3 = [0, 0, 1];
/** Directions nearer than this are one: cosine of a degree. */
const SAME = Math.cos(Math.PI / 180);

/** Acceleration that decides while a part is carried, m/s2, and the factor by which it must be able to grow. */
export interface Inertia {
  readonly name: 'emergency stop' | 'transport';
  readonly acceleration: number;
  readonly required: number;
}

/** Of emergency stop and transport the one that asks for more; the other is carried where this one is. */
export function governingInertia({ loads, reserves }: Settings): Inertia {
  const stop: Inertia = {
    ...{ name: 'emergency stop', acceleration: loads['stop-acceleration'], required: reserves.accident },
  };
  const move: Inertia = {
    ...{ name: 'transport', acceleration: loads['transport-acceleration'], required: reserves.disturbance },
  };
  return stop.acceleration * stop.required >= move.acceleration * move.required ? stop : move;
}

/** Where a part would be in the cell with the arm at its home and the part on its gripper. */
export function carriedHome(scene: Scene, { part, grip, gripper, robot }: HeldPart): Pose {
  const flange = compose(robot.base, forward(robot.arm, robot.home));
  return compose(flange, inverse(gripFlange(scene.parts[part]!.part.shape, IDENTITY, grip, gripper)));
}

/** Ways in which a carried part may lag behind: eight level ones, up, down, off the pads and onto them. */
export function inertiaWays(scene: Scene, into: Vec3): readonly (readonly [string, Vec3])[] {
  const x = axisX(scene.cell.weldmentPose.turn);
  const y = cross(UP, x);
  const level = Array.from({ length: 8 }, (_, i) => {
    const angle = (i * Math.PI) / 4;
    const way: Vec3 = add(scale(x, Math.cos(angle)), scale(y, Math.sin(angle)));
    return [`level ${i * 45} deg`, way] as const;
  });
  const fixed = [...level, ['up', UP] as const, ['down', negate(UP)] as const];
  const square = [['off the pads', into] as const, ['onto the pads', negate(into)] as const].filter(
    ([, way]) => !fixed.some(([, known]) => dot(known, way) > SAME),
  );
  return [...fixed, ...square];
}

/** One thing that a carrying grip must carry, and how many times it does. */
export interface CarriedReserve {
  readonly case: string;
  readonly required: number;
  readonly reserve: number;
}

/** Inertia of a part carried at a pose, in every way, about its centre of mass; cell frame, body 0. */
export function inertiaLoads(scene: Scene, held: HeldPart, pose: Pose, settings: Settings): Disturbance[] {
  const { own, mass, part } = scene.parts[held.part]!;
  const { name, acceleration } = governingInertia(settings);
  if (acceleration === 0) return [];
  const { into } = padsInCell(part.shape, pose, held.grip, held.gripper);
  const at = place(pose, own.centre);
  return inertiaWays(scene, into).map(([way, direction]) => ({
    name: `${name} ${way}`,
    forces: [{ body: 0, force: scale(direction, mass * acceleration), at }],
  }));
}

/** Reserves of a part that hangs on a grip at a pose: its weight, and its inertia in each way. Solved from nothing. */
export function carriedReserves(
  programs: LinearPrograms,
  scene: Scene,
  held: HeldPart,
  pose: Pose,
  settings: Settings,
): readonly CarriedReserve[] {
  const { system, frame } = hangingSystem(scene, held, pose, settings);
  const loads = inertiaLoads(scene, held, pose, settings).map((load) => movedDisturbance(load, frame));
  const { gravity, disturbances } = judge(programs, system, loads, { cold: true });
  const { required } = governingInertia(settings);
  const weight = { case: 'gravity', required: settings.reserves.gravity, reserve: gravity.reserve };
  // What falls by its weight alone has no reserve of anything else.
  if (!gravity.stands) return [weight];
  return [weight, ...disturbances.map(({ name, reserve }) => ({ case: name, required, reserve }))];
}

/** The one that is nearest to what is required, as a ratio; the first of equals. */
export const weakestCarried = (reserves: readonly CarriedReserve[]): CarriedReserve =>
  reserves.reduce((least, next) =>
    next.reserve / next.required < least.reserve / least.required ? next : least,
  );

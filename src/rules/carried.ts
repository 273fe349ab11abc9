import type { LinearPrograms } from '../algorithms/linear-program.js';
import { axisX, compose, IDENTITY, inverse, place, type Pose } from '../geometry/pose.js';
import { add, cross, dot, negate, scale, type Vec3 } from '../geometry/vector.js';
import { forward } from '../kinematics/forward.js';
import { BEYOND_DOUBT, prepare, SURELY_STANDS, type Judge } from '../mechanics/equilibrium.js';
import { FACTOR_CAP } from '../mechanics/equilibrium-program.js';
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

/** What a part that hangs on a grip carries least surely, of its weight and its inertia in each way at some poses: the first of equals. */
export const weakestCarried = (
  programs: LinearPrograms,
  scene: Scene,
  held: HeldPart,
  poses: readonly Pose[],
  settings: Settings,
): CarriedReserve => weakestBelow(programs, scene, held, poses, settings, Infinity)!;

/** The same where it is not carried as often as it must be; undefined where all is. */
export function notCarried(
  programs: LinearPrograms,
  scene: Scene,
  held: HeldPart,
  pose: Pose,
  settings: Settings,
): CarriedReserve | undefined {
  const weakest = weakestBelow(programs, scene, held, [pose], settings, 1);
  return weakest && weakest.reserve < weakest.required ? weakest : undefined;
}

/** How near a reserve is to what is required. */
const share = ({ reserve, required }: CarriedReserve): number => reserve / required;

/** The weakest, solved from nothing; undefined, or any other, where its share is surely not below a limit. */
function weakestBelow(
  programs: LinearPrograms,
  scene: Scene,
  held: HeldPart,
  poses: readonly Pose[],
  settings: Settings,
  limit: number,
): CarriedReserve | undefined {
  let weakest: CarriedReserve | undefined;
  for (const pose of poses) {
    const { system, frame } = hangingSystem(scene, held, pose, settings);
    const loads = inertiaLoads(scene, held, pose, settings).map((load) => movedDisturbance(load, frame));
    const judge = prepare(programs, system, loads, { cold: true });
    try {
      const found = weakestOf(casesOf(judge, loads, settings), weakest ? share(weakest) : limit);
      if (found && (weakest === undefined || share(found) < share(weakest))) weakest = found;
    } finally {
      judge.dispose();
    }
  }
  return weakest;
}

/** One thing that a grip must carry, and how it is judged: `least` is a lower bound of its reserve that is soon told. */
interface CarriedCase {
  readonly case: string;
  readonly required: number;
  readonly least: (wanted?: number) => number;
  readonly reserve: () => number;
}

/** Weight first; what falls by its weight alone has no reserve of anything else. */
function casesOf(judge: Judge, loads: readonly Disturbance[], settings: Settings): readonly CarriedCase[] {
  const weight: CarriedCase = {
    ...{ case: 'gravity', required: settings.reserves.gravity },
    least: (wanted) => judge.leastGravity(wanted),
    reserve: () => judge.gravity().reserve,
  };
  if (judge.leastGravity(SURELY_STANDS) < SURELY_STANDS && !judge.gravity().stands) return [weight];
  const { required } = governingInertia(settings);
  const inertia = loads.map(({ name }, index): CarriedCase => ({
    ...{ case: name, required },
    least: (wanted) => judge.leastDisturbance(index, wanted),
    reserve: () => judge.disturbance(index).reserve,
  }));
  return [weight, ...inertia];
}

/**
 * Of the cases the weakest, the first of equals; likeliest first, and judged only where its lower bound leaves that open. No
 * reserve is above the greatest, however high its bound.
 */
function weakestOf(cases: readonly CarriedCase[], limit: number): CarriedReserve | undefined {
  const bounds = cases.map(({ least, required }) => least() / required);
  const likeliest = cases.map((_, index) => index).sort((p, q) => bounds[p]! - bounds[q]!);
  let weakest: { readonly index: number; readonly found: CarriedReserve } | undefined;
  for (const index of likeliest) {
    const { required, least, reserve, case: name } = cases[index]!;
    const lowest = Math.min(limit, weakest ? share(weakest.found) : Infinity);
    const wanted = lowest * required * (1 + BEYOND_DOUBT);
    if (lowest > 0 && wanted <= FACTOR_CAP && least(wanted) >= wanted) continue;
    const found = { case: name, required, reserve: reserve() };
    const before = weakest ? share(weakest.found) : Infinity;
    const earlier = weakest === undefined || index < weakest.index;
    if (share(found) < before || (share(found) === before && earlier)) weakest = { index, found };
  }
  return weakest?.found;
}

import { snap } from '../base/order.js';
import { axisX, axisY, axisZ } from '../geometry/pose.js';
import { add, cross, length, negate, scale, unit, type Vec3 } from '../geometry/vector.js';
import { movedDisturbance } from '../mechanics/moved-system.js';
import type { Disturbance } from '../mechanics/system.js';
import type { Gripper } from '../model/cell.js';
import { padsInCell, type GripPlace } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { pullPerPad, type Assembly } from './assembly.js';

const GRAVITY = 9.80665;
const UP: Vec3 = [0, 0, 1];

/** Kinds of loads of which a plan states the worst, each the beginning of its loads' names. */
export const LOAD_FAMILIES = ['gravity', 'push', 'let-go pull', 'torch touch'] as const;
export type LoadFamily = (typeof LOAD_FAMILIES)[number];

/** The family of a load by its name; undefined for a name that no load has. */
export const familyOf = (name: string): LoadFamily | undefined =>
  LOAD_FAMILIES.find((family) => name === family || name.startsWith(`${family} `));

/** A disturbance of one part; `part` is its index, forces in N at points of the cell. */
export interface PartLoad {
  readonly name: string;
  readonly part: number;
  readonly forces: readonly { readonly force: Vec3; readonly at: Vec3 }[];
}

/** Eight horizontal directions, the first along the part's most horizontal axis. */
export function pushDirections(scene: Scene, part: number): readonly Vec3[] {
  const { turn } = scene.parts[part]!.pose;
  const level = (axis: Vec3): Vec3 => [axis[0], axis[1], 0];
  const axes = [axisX(turn), axisY(turn), axisZ(turn)].map(level);
  const longest = Math.max(...axes.map((axis) => snap(length(axis), 1e-6)));
  const first = unit(axes.find((axis) => snap(length(axis), 1e-6) === longest)!);
  const second = cross(UP, first);
  return Array.from({ length: 8 }, (_, i) => {
    const angle = (i * Math.PI) / 4;
    return add(scale(first, Math.cos(angle)), scale(second, Math.sin(angle)));
  });
}

/** The weight moved to the side by the centre shift, as a pair of forces. */
function shiftedWeight(scene: Scene, part: number, direction: Vec3, shift: number): PartLoad['forces'] {
  const { solid, mass } = scene.parts[part]!;
  const weight = mass * GRAVITY;
  return [
    { force: [0, 0, weight], at: solid.centre },
    { force: [0, 0, -weight], at: add(solid.centre, scale(direction, shift)) },
  ];
}

/**
 * Someone or something brushes the part: the greater of a share of its weight and an absolute force, at its top and
 * at its foot, in eight directions of its own frame, with its centre of mass shifted the same way.
 */
export function pushLoads(scene: Scene, part: number, settings: Settings): PartLoad[] {
  const { solid, mass } = scene.parts[part]!;
  const force = Math.max(settings.loads['push-share'] * mass * GRAVITY, settings.loads['push-least']);
  const { low, high } = solid.bounds;
  const middle: Vec3 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, 0];
  return pushDirections(scene, part).flatMap((direction, i) =>
    (
      [
        ['top', high[2]],
        ['foot', low[2]],
      ] as const
    ).map(([where, z]) => ({
      name: `push ${where} ${i * 45} deg`,
      part,
      forces: [
        { force: scale(direction, force), at: [middle[0], middle[1], z] as Vec3 },
        ...shiftedWeight(scene, part, direction, settings.reductions['centre-shift']),
      ],
    })),
  );
}

/** The residual magnetism of every pad pulls at the part while the gripper leaves along its own axis. */
export function letGoLoad(scene: Scene, part: number, grip: GripPlace, gripper: Gripper): PartLoad {
  const placed = scene.parts[part]!;
  const { centres, into } = padsInCell(placed.part.shape, placed.pose, grip, gripper);
  const force = scale(negate(into), pullPerPad(scene, part, gripper, grip.face) * gripper.residual);
  return { name: 'let-go pull', part, forces: centres.map((at) => ({ force, at })) };
}

/** A torch that touches at a tack's middle: along its feed and both ways along the seam. `part` takes the force. */
export function torchLoads(part: number, tack: TorchTouch, settings: Settings): PartLoad[] {
  const size = settings.loads['torch-touch'];
  const ways: readonly (readonly [string, Vec3])[] = [
    ['feed', negate(tack.open)],
    ['along', tack.along],
    ['back', negate(tack.along)],
  ];
  return ways.map(([way, direction]) => ({
    name: `torch touch ${tack.id} ${way}`,
    part,
    forces: [{ force: scale(direction, size), at: tack.at }],
  }));
}

/** Where a torch may touch; cell frame, unit vectors, `open` out of the seam. */
export interface TorchTouch {
  readonly id: string;
  readonly at: Vec3;
  readonly along: Vec3;
  readonly open: Vec3;
}

/** The loads as disturbances of an assembly; loads on parts that count as fixed fall away. */
export function asDisturbances(loads: readonly PartLoad[], { bodyOf, frame }: Assembly): Disturbance[] {
  return loads.flatMap(({ name, part, forces }) => {
    const body = bodyOf(part);
    if (body === undefined || body < 0) return [];
    return [movedDisturbance({ name, forces: forces.map(({ force, at }) => ({ body, force, at })) }, frame)];
  });
}

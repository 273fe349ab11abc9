import type { Solid } from '../geometry/solid.js';
import { add, negate, scale, type Vec3 } from '../geometry/vector.js';
import { movedDisturbance } from '../mechanics/moved-system.js';
import { STANDARD_GRAVITY, type Disturbance } from '../mechanics/system.js';
import type { Gripper } from '../model/cell.js';
import { padsInCell, type GripPlace } from '../model/placement.js';
import type { PlanReserve } from '../model/plan.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Assembly, HeldPart, LaidTack } from './assembly.js';
import { piecesOf, type PartForce } from './bodies.js';
import { pushDirections } from './push-directions.js';
import { releaseForces } from './release-pull.js';

/** Kinds of loads of which a plan states the worst, each the beginning of its loads' names. */
export const LOAD_FAMILIES = [
  'gravity',
  'push',
  'let-go pull',
  'torch touch',
  'frozen wire',
  'seating push',
  'sliding drag',
  'magnet attraction',
  'proof pull',
  'table turn',
  'lift-out',
] as const;
export type LoadFamily = (typeof LOAD_FAMILIES)[number];

/** The factor by which loads of a family must be able to grow. */
export function requiredReserve(
  family: LoadFamily,
  { reserves }: Settings,
  state?: PlanReserve['state'],
): number {
  if (family === 'gravity') return state === 'power-lost' ? reserves.accident : reserves.gravity;
  return family === 'proof pull' ? reserves.accident : reserves.disturbance;
}

/** The family of a load by its name; undefined for a name that no load has. */
export const familyOf = (name: string): LoadFamily | undefined =>
  LOAD_FAMILIES.find((family) => name.startsWith(family) && /^(?: |,|$)/.test(name.slice(family.length)));

/** A disturbance of one or more parts by forces at points of the cell. */
export interface PartLoad {
  readonly name: string;
  readonly forces: readonly PartForce[];
}

/** A disturbance whose forces all act on one part. */
export const loadOn = (part: number, name: string, forces: readonly Omit<PartForce, 'part'>[]): PartLoad => ({
  name,
  forces: forces.map(({ member, force, at }) => ({
    ...{ part, force, at },
    ...(member === undefined ? {} : { member }),
  })),
});

/** The weight moved to the side by the centre shift, as a pair of forces. */
function shiftedWeight(
  scene: Scene,
  part: number,
  direction: Vec3,
  shift: number,
): readonly Omit<PartForce, 'part'>[] {
  return piecesOf(scene, part).flatMap(({ member, solid, mass }) => {
    const weight = mass * STANDARD_GRAVITY;
    return [
      { member, force: [0, 0, weight], at: solid.centre },
      { member, force: [0, 0, -weight], at: add(solid.centre, scale(direction, shift)) },
    ] as const;
  });
}

/**
 * Someone or something brushes the part: the greater of a share of its weight and an absolute force, at its top and
 * at its foot, in the directions of `pushDirections`, with its centre of mass shifted the same way; of a sub-assembly the
 * whole, and each member by its own weight. `others` are the parts in place that it may stand on.
 */
export function pushLoads(
  scene: Scene,
  part: number,
  others: readonly number[],
  settings: Settings,
): PartLoad[] {
  const ways = pushDirections(scene, part, others);
  return pushedOf(scene, part).flatMap(({ name: which, member, ...body }) => {
    const { force, points } = pushOn(body, settings);
    return ways.flatMap(({ name, direction }) =>
      points.map(([where, at]) =>
        loadOn(part, `push ${where} ${name}${which}`, [
          { ...member, force: scale(direction, force), at },
          ...shiftedWeight(scene, part, direction, settings.reductions['centre-shift']),
        ]),
      ),
    );
  });
}

/** What of a part is pushed, with how its loads are named. */
function pushedOf(scene: Scene, part: number) {
  const { solid, mass } = scene.parts[part]!;
  const whole = { name: '', member: {}, solid, mass };
  const pieces = piecesOf(scene, part);
  if (pieces.length === 1) return [whole];
  return [
    whole,
    ...pieces.map(({ id, member, ...one }) => ({ ...one, name: ` at ${id}`, member: { member } })),
  ];
}

/** How hard something is pushed, N, and where: over the middle of its box, at its top and at its foot. */
function pushOn(
  { solid, mass }: { readonly solid: Solid; readonly mass: number },
  { loads }: Settings,
): { readonly force: number; readonly points: readonly (readonly [string, Vec3])[] } {
  const { low, high } = solid.bounds;
  const [x, y] = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2];
  return {
    force: Math.max(loads['push-share'] * mass * STANDARD_GRAVITY, loads['push-least']),
    points: [
      ['top', [x, y, high[2]]],
      ['foot', [x, y, low[2]]],
    ],
  };
}

/** What the gripper does to the part while it lets go and leaves along its own axis. */
export const letGoLoad = (scene: Scene, part: number, grip: GripPlace, gripper: Gripper): PartLoad =>
  loadOn(part, 'let-go pull', releaseForces(scene, part, grip, gripper));

/** The same pull at an earlier part that was held in its place. */
export function otherLetGoLoad(scene: Scene, { part, grip, gripper }: HeldPart): PartLoad {
  const load = letGoLoad(scene, part, grip, gripper);
  return { ...load, name: `${load.name} on ${scene.parts[part]!.part.id}` };
}

/** A torch that touches at a tack's middle: along its feed and both ways along the seam. `part` takes the force. */
export function torchLoads(part: number, tack: TorchTouch, settings: Settings): PartLoad[] {
  const size = settings.loads['torch-touch'];
  if (size === 0) return [];
  const ways: readonly (readonly [string, Vec3])[] = [
    ['feed', negate(tack.open)],
    ['along', tack.along],
    ['back', negate(tack.along)],
  ];
  return ways.map(([way, direction]) =>
    loadOn(part, `torch touch ${tack.id} ${way}`, [{ force: scale(direction, size), at: tack.at }]),
  );
}

/** The wire froze to a tack and pulls at it while the torch leaves. `part` takes the force. */
export const wireLoads = (part: number, tack: TorchTouch, settings: Settings): PartLoad[] =>
  settings.loads['wire-pull'] === 0
    ? []
    : [
        loadOn(part, `frozen wire ${tack.id}`, [
          { force: scale(tack.open, settings.loads['wire-pull']), at: tack.at },
        ]),
      ];

/** The gripper pulls at the part that it still holds, to see whether the securing tacks are sound. */
export function proofLoad(
  scene: Scene,
  part: number,
  grip: GripPlace,
  gripper: Gripper,
  force: number,
): PartLoad {
  const { part: own, pose } = scene.parts[part]!;
  const { pads, into } = padsInCell(own.shape, pose, grip, gripper);
  const share = scale(negate(into), force / pads.length);
  return loadOn(
    part,
    'proof pull',
    pads.map(({ at }) => ({ force: share, at })),
  );
}

/** Where a torch may touch; cell frame, unit vectors, `open` out of the seam. */
export interface TorchTouch {
  readonly id: string;
  readonly at: Vec3;
  readonly along: Vec3;
  readonly open: Vec3;
}

/** A tack as statics and torches see it. */
export interface TouchedTack {
  /** The welding robot that lays it; empty for a tack that a person lays. */
  readonly robot: string;
  readonly tack: LaidTack;
  readonly touch: TorchTouch;
}

/** The loads as disturbances of an assembly; forces on parts that count as fixed fall away. */
export function asDisturbances(loads: readonly PartLoad[], { bodyUnder, frame }: Assembly): Disturbance[] {
  return loads.map(({ name, forces }) =>
    movedDisturbance(
      {
        name,
        forces: forces.flatMap((one) => {
          const body = bodyUnder(one);
          return body === undefined || body < 0 ? [] : [{ body, force: one.force, at: one.at }];
        }),
      },
      frame,
    ),
  );
}

import type { Vec3 } from '../geometry/vector.js';
import type { Cell, Handler } from '../model/cell.js';
import type { Gripper } from '../model/gripper.js';
import { shapeSolid } from '../model/part-geometry.js';
import type { GripPlace } from '../model/placement.js';
import type { Settings } from '../model/settings.js';
import type { Judged } from '../model/verdict.js';
import type { Part } from '../model/weldment.js';
import type { GripWish } from '../model/wish.js';
import { ownPartRefusal } from './grip-own-part.js';
import { gripPlaces } from './grip-places.js';
import { gripWorth } from './grip-rank.js';
import { refusalOf } from './grip-refusals.js';
import { jawPlaces } from './jaw-places.js';

/** One way for one gripper on one arm to take one part. */
export interface Grip extends GripPlace {
  /** Position in the part's list of candidates. */
  readonly id: number;
  readonly gripper: Gripper;
  readonly robot: Handler;
}

/**
 * Every grip considered for a part, with the reason against those that cannot be used: first those that hold near the
 * centre of mass and leave the seams free. `seamPoints` lie along the part's seams, in its own frame; `wished` are the wishes for
 * grips of the part, whose positions are considered too.
 */
export function gripsOf(
  part: Part,
  cell: Cell,
  seamPoints: readonly Vec3[],
  settings: Settings,
  wished: readonly GripWish[] = [],
): readonly Judged<Grip>[] {
  const { shape } = part;
  const solid = shapeSolid(shape);
  const places: { readonly place: GripPlace; readonly gripper: Gripper }[] = part.grips
    ? part.grips.flatMap((given) => {
        const gripper = cell.grippers.find(({ id }) => id === given.gripper);
        return gripper ? [{ place: given, gripper }] : [];
      })
    : cell.grippers.flatMap((gripper) =>
        (gripper.kind === 'jaw'
          ? jawPlaces(part, solid, gripper, settings)
          : withWished(gripPlaces(shape, gripper, settings), wished, gripper.id)
        ).map((place) => ({ place, gripper })),
      );
  return places
    .map(({ place, gripper }) => {
      const worth = gripWorth(shape, solid.centre, seamPoints, place, gripper);
      return { place, gripper, rank: Math.round(worth * 1e3) };
    })
    .sort((p, q) => p.rank - q.rank)
    .flatMap((candidate) => cell.handlers.map((robot) => ({ ...candidate, robot })))
    .map(({ place, gripper, robot }, id) => ({
      candidate: {
        ...{ id, face: place.face, position: place.position, turn: place.turn, gripper, robot },
        ...(place.group === undefined ? {} : { group: place.group }),
      },
      refusal:
        refusalOf(part, solid, robot, place, gripper) ??
        ownPartRefusal(part, solid, place, gripper, settings),
    }));
}

/** The places on a part, and those for a gripper that wishes name beside them, in each quarter turn and group of pads. */
function withWished(
  places: readonly GripPlace[],
  wished: readonly GripWish[],
  gripper: string,
): readonly GripPlace[] {
  const further = wished.flatMap(({ face, position, gripper: own, never }) => {
    if (position === undefined || never || (own !== undefined && own !== gripper)) return [];
    const alike = places.filter((place) => place.face === face);
    const there = alike.some((place) => place.position.every((x, i) => Math.abs(x - position[i]!) < 0.05));
    if (there) return [];
    const kinds = new Map(alike.map((place) => [`${place.turn} ${place.group ?? ''}`, place]));
    return [...kinds.values()].map((place) => ({ ...place, position }));
  });
  return [...places, ...further];
}

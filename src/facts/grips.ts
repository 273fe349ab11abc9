import { roomOnFace } from '../geometry/face-rim.js';
import { IDENTITY, place } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import { distance } from '../geometry/vector.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import type { Cell, Gripper } from '../model/cell.js';
import { partMass, shapeSolid } from '../model/part-geometry.js';
import { gripFlange, padFrame, type GripPlace } from '../model/placement.js';
import type { Settings } from '../model/settings.js';
import type { Judged, Refusal } from '../model/verdict.js';
import type { Part } from '../model/weldment.js';
import { ownPartRefusal } from './grip-own-part.js';
import { gripPlaces } from './grip-places.js';
import { gripWorth, type OwnSeam } from './grip-rank.js';

/** One way for one gripper to take one part. */
export interface Grip extends GripPlace {
  /** Position in the part's list of candidates. */
  readonly id: number;
  readonly gripper: Gripper;
}

/** Least distance from a pad's rim to the rim of the face, holes included; negative when it hangs over. */
function overhang(solid: Solid, part: Part, grip: GripPlace, gripper: Gripper): number {
  const face = solid.faces.find(({ id }) => id === grip.face)!;
  const frame = padFrame(part.shape, grip);
  const room = gripper.pads.map(([x, y]) => roomOnFace(face, place(frame, [x, y, 0])));
  return Math.min(...room) - gripper.padDiameter / 2;
}

function refusalOf(
  part: Part,
  solid: Solid,
  cell: Cell,
  grip: GripPlace,
  gripper: Gripper,
): Refusal | undefined {
  const about = [part.id, gripper.id, grip.face];
  const { payload } = cell.handler;
  const mass = partMass(part, solid);
  if (mass + gripper.mass > payload.mass)
    return {
      code: 'payload',
      subjects: [part.id, cell.handler.id],
      value: mass + gripper.mass,
      limit: payload.mass,
      unit: 'kg',
    };
  if (part.material.magnetic <= 0)
    return {
      code: 'not-magnetic',
      subjects: [part.id, part.material.name],
      value: part.material.magnetic,
      limit: 0,
    };
  const room = overhang(solid, part, grip, gripper);
  if (room < 0) return { code: 'footprint', subjects: about, value: room, limit: 0, unit: 'mm' };
  const flange = gripFlange(part.shape, IDENTITY, grip, gripper);
  const moment =
    STANDARD_GRAVITY * (mass * distance(flange.at, solid.centre) + (gripper.mass * gripper.reach) / 2);
  if (moment > payload.moment)
    return { code: 'wrist-moment', subjects: about, value: moment, limit: payload.moment, unit: 'N·mm' };
  return undefined;
}

/**
 * Every grip considered for a part, with the reason against those that cannot be used: first those that hold near the
 * centre of mass and leave the seams free.
 */
export function gripsOf(
  part: Part,
  cell: Cell,
  seams: readonly OwnSeam[],
  settings: Settings,
): readonly Judged<Grip>[] {
  const { shape } = part;
  const solid = shapeSolid(shape);
  const places: { readonly place: GripPlace; readonly gripper: Gripper }[] = part.grips
    ? part.grips.flatMap((given) => {
        const gripper = cell.grippers.find(({ id }) => id === given.gripper);
        return gripper ? [{ place: given, gripper }] : [];
      })
    : cell.grippers.flatMap((gripper) =>
        gripPlaces(shape, gripper, settings).map((place) => ({ place, gripper })),
      );
  return places
    .map(({ place, gripper }) => {
      const worth = gripWorth(shape, solid.centre, seams, place, gripper);
      return { place, gripper, rank: Math.round(worth * 1e3) };
    })
    .sort((p, q) => p.rank - q.rank)
    .map(({ place, gripper }, id) => ({
      candidate: { id, face: place.face, position: place.position, turn: place.turn, gripper },
      refusal:
        refusalOf(part, solid, cell, place, gripper) ?? ownPartRefusal(part, solid, place, gripper, settings),
    }));
}

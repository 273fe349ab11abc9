import { axisX, axisY } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import { dot } from '../geometry/vector.js';
import type { JawGripper } from '../model/gripper.js';
import { jawSpan } from '../model/jaw-span.js';
import { faceFrame } from '../model/part-geometry.js';
import { padFrame, type GripPlace } from '../model/placement.js';
import type { FaceName } from '../model/scalars.js';
import type { Settings } from '../model/settings.js';
import type { Shape } from '../model/shape.js';
import type { Part } from '../model/weldment.js';
import { openFaces } from './grip-places.js';

const QUARTERS = [0, 1, 2, 3].map((quarter) => (quarter * Math.PI) / 2);
/** Distance from a finger pad's rim to the edge of the face along which it is moved, mm. */
const RIM = 1;
/** Less room than this to either side of the middle, mm, is not worth another position. */
const LEAST_ROOM = 5;
/** Steps to either side of the middle at which a jaw is tried along a part. */
const STEPS = 2;

/** Offsets from the middle at which a jaw is tried along a part: evenly to both ends of what the pads leave, mm. */
function offsets(room: number): readonly number[] {
  if (room === 0) return [0];
  return Array.from({ length: 2 * STEPS + 1 }, (_, i) => Math.round(((i - STEPS) * room) / STEPS) + 0);
}

/** The share of the room that an offset stands for: of one at which a jaw is tried without its rounding to millimetres. */
export function jawShare(offset: number, room: number): number {
  if (room === 0) return 0;
  const step = offsets(room).indexOf(Math.round(offset));
  return step < 0 ? offset / room : (step - STEPS) / STEPS;
}

/** Along which axis of a face a jaw is moved, and how far whole millimetres let its pads go to either side; 0: not at all. */
export function jawRoom(
  shape: Shape,
  face: FaceName,
  turn: number,
  { padDiameter }: JawGripper,
): { readonly alongU: boolean; readonly room: number } {
  const { u, halfU, halfV } = faceFrame(shape, face);
  const y = axisY(padFrame(shape, { face, position: [0, 0], turn }).turn);
  const alongU = Math.abs(dot(y, u)) > 0.5;
  const room = Math.floor((alongU ? halfU : halfV) - padDiameter / 2 - RIM);
  return { alongU, room: room < LEAST_ROOM ? 0 : room };
}

/** The same place with the middle of the jaw between the two faces that it closes on. */
export function centred(shape: Shape, solid: Solid, place: GripPlace, jaw: JawGripper): GripPlace {
  const frame = padFrame(shape, place);
  const { low, high } = jawSpan(solid, frame, jaw);
  const { u, v } = faceFrame(shape, place.face);
  const x = axisX(frame.turn);
  const aside = Math.round(((low + high) / 2) * 1e3) / 1e3;
  const [atU, atV] = place.position;
  return { ...place, position: [atU + aside * dot(x, u) + 0, atV + aside * dot(x, v) + 0] };
}

/**
 * Where a jaw is tried on a part: coming down on each flat face that is open, closing along either of its axes and from either
 * side, along the part at several places, its middle between the faces that it closes on.
 */
export function jawPlaces(part: Part, solid: Solid, jaw: JawGripper, settings: Settings): GripPlace[] {
  const on = (face: FaceName, turn: number): GripPlace[] => {
    const { alongU, room } = jawRoom(part.shape, face, turn, jaw);
    return offsets(room).map((offset) =>
      centred(part.shape, solid, { face, position: alongU ? [offset, 0] : [0, offset], turn }, jaw),
    );
  };
  const faces = openFaces(part.shape, settings.motion['approach-distance']);
  return faces.flatMap(({ id }) => QUARTERS.flatMap((turn) => on(id, turn)));
}

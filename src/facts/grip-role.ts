import { rounded } from '../base/order.js';
import { fail, ok, type Result } from '../base/result.js';
import type { GripPlaceRole, GripRole } from '../model/build-pattern.js';
import type { Cell } from '../model/cell.js';
import type { FlatGripper, Gripper } from '../model/gripper.js';
import { faceOf, shapeSolid } from '../model/part-geometry.js';
import type { PlanGrip } from '../model/plan.js';
import type { Refusal } from '../model/verdict.js';
import type { GivenGrip, Part } from '../model/weldment.js';
import { isGrip } from '../rules/wish-kept.js';
import { behindCentre, padRoom, type Position } from './grip-places.js';
import { centred, jawRoom, jawShare } from './jaw-places.js';

/** Places nearer to each other than this along either axis, mm, are the same: positions of grips are compared so. */
const SAME = 0.05;
const SHARE_DIGITS = 6;

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

const degrees = (angle: number): number => (angle * 180) / Math.PI;

const isQuarter = (turn: number): boolean => Math.abs(turn / 90 - Math.round(turn / 90)) < 1e-6;

const near = (a: Position, b: Position): boolean => a.every((x, i) => Math.abs(x - b[i]!) < SAME);

/** A grip of a file as a plan states it. */
const stated = ({ gripper, face, position, turn, group }: GivenGrip): PlanGrip => ({
  ...{ gripper, face, position: [position[0], position[1]], turn: rounded(degrees(turn), SHARE_DIGITS) },
  ...(group === undefined ? {} : { group }),
});

/** A grip of a plan as wishes ask for it and see it. */
export const inWishes = ({ group, ...grip }: PlanGrip) => ({ ...grip, group: group ?? null });

/** What a grip is to its part, so that it can be said of the same part in another size. */
export function roleOfGrip(part: Part, grip: PlanGrip, gripper: Gripper): GripRole {
  const { face, turn, group } = grip;
  const own = { gripper: gripper.id, face, turn, ...(group === undefined ? {} : { group }) };
  return { ...own, place: placeRole(part, grip, gripper) };
}

function placeRole(part: Part, grip: PlanGrip, gripper: Gripper): GripPlaceRole {
  const { position, turn } = grip;
  const given = (part.grips ?? []).findIndex((one) => isGrip(inWishes(stated(one)), inWishes(grip)));
  if (given >= 0) return { given: given + 1 };
  const inMillimetres: GripPlaceRole = { at: [position[0], position[1]] };
  if (!isQuarter(turn)) return inMillimetres;
  const over = overCentre(part, grip, gripper);
  if (over && near(over, position)) return { over: 'centre-of-mass' };
  const share = shareOf(part, grip, gripper);
  return share ? { share } : inMillimetres;
}

/** As shares of the room that the face leaves; undefined where it is no such place. */
function shareOf(part: Part, grip: PlanGrip, gripper: Gripper): [number, number] | undefined {
  const parts = gripper.kind === 'jaw' ? jawShares(part, grip, gripper) : padShares(part, grip, gripper);
  if (parts.some((share) => Math.abs(share) > 1 + 1e-6)) return undefined;
  const share = parts.map((x) => rounded(Math.min(1, Math.max(-1, x)), SHARE_DIGITS)) as [number, number];
  return near(sharedPosition(part, share, grip, gripper), grip.position) ? share : undefined;
}

const shareIn = (off: number, room: number): number => (room === 0 ? 0 : off / room);

function padShares(part: Part, { face, position, turn, group }: PlanGrip, gripper: FlatGripper): Position {
  const { room, pads } = padRoom(part.shape, { face, turn: radians(turn), group }, gripper);
  return [shareIn(position[0] + pads[0], room[0]), shareIn(position[1] + pads[1], room[1])];
}

function jawShares(part: Part, { face, position, turn }: PlanGrip, jaw: Gripper & { kind: 'jaw' }): Position {
  const { alongU, room } = jawRoom(part.shape, face, radians(turn), jaw);
  return alongU ? [jawShare(position[0], room), 0] : [0, jawShare(position[1], room)];
}

/** Which face, turned how, by which pads. */
type OnFace = Pick<PlanGrip, 'face' | 'turn' | 'group'>;

function sharedPosition(
  { shape }: Part,
  share: Position,
  { face, turn: turned, group }: OnFace,
  gripper: Gripper,
): Position {
  const turn = radians(turned);
  if (gripper.kind === 'jaw') {
    const { alongU, room } = jawRoom(shape, face, turn, gripper);
    const position: Position = alongU ? [share[0] * room, 0] : [0, share[1] * room];
    return centred(shape, shapeSolid(shape), { face, position: whole(position), turn }, gripper).position;
  }
  const { room, pads } = padRoom(shape, { face, turn, group }, gripper);
  return [share[0] * room[0] - pads[0] + 0, share[1] * room[1] - pads[1] + 0];
}

/** A jaw is tried at whole millimetres along a part. */
const whole = (position: Position): Position => [Math.round(position[0]) + 0, Math.round(position[1]) + 0];

/** Where pads are over the centre of mass; undefined for a jaw, and where the centre is not straight behind the face. */
function overCentre({ shape }: Part, { face, turn, group }: OnFace, gripper: Gripper): Position | undefined {
  const plane = faceOf(shape, face);
  if (gripper.kind === 'jaw' || plane === undefined) return undefined;
  const [over] = behindCentre(shape, plane);
  if (over === undefined) return undefined;
  const { pads } = padRoom(shape, { face, turn: radians(turn), group }, gripper);
  return [over[0] - pads[0], over[1] - pads[1]];
}

/** The grip that has a role on a part, or what keeps the part from having one. */
export function gripOfRole(part: Part, role: GripRole, { grippers }: Cell): Result<PlanGrip, Refusal> {
  const { face, turn, group, place } = role;
  const gripper = grippers.find(({ id }) => id === role.gripper);
  const plane = faceOf(part.shape, face);
  if (gripper === undefined || plane === undefined || plane.curved !== undefined)
    return fail({ code: 'role-without-face', subjects: [part.id, role.gripper, face] });
  const own = { gripper: gripper.id, face, turn, ...(group === undefined ? {} : { group }) };
  const at = (position: Position): Result<PlanGrip, Refusal> =>
    ok({ ...own, position: [position[0], position[1]] });
  if ('at' in place) return at(place.at);
  if ('share' in place) return at(sharedPosition(part, place.share, role, gripper));
  if ('over' in place)
    // Where the centre of mass is behind the middle of the face, that is the place over it.
    return at(overCentre(part, role, gripper) ?? sharedPosition(part, [0, 0], role, gripper));
  const given = part.grips?.[place.given - 1];
  if (given === undefined || given.gripper !== gripper.id || given.face !== face)
    return fail({ code: 'role-without-grip', subjects: [part.id, role.gripper, face] });
  return ok(stated(given));
}

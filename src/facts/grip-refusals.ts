import { roomOnFace } from '../geometry/face-rim.js';
import { boxMass, turnInertia } from '../geometry/mass.js';
import { IDENTITY, place } from '../geometry/pose.js';
import type { PlanarFace, Solid } from '../geometry/solid.js';
import { placeSolid } from '../geometry/solid.js';
import { solidsOverlap } from '../geometry/separation.js';
import type { Vec3 } from '../geometry/vector.js';
import { gradeLimit } from '../mechanics/pads.js';
import { wristLoad, type CarriedBody, type WristLoad } from '../mechanics/wrist-load.js';
import type { Arm } from '../kinematics/arm.js';
import type { Handler } from '../model/cell.js';
import { tooHot, type FlatGripper, type Gripper, type JawGripper } from '../model/gripper.js';
import { fingersOf } from '../model/gripper-solid.js';
import { jawSpan } from '../model/jaw-span.js';
import { partMass } from '../model/part-geometry.js';
import { gripFlange, padFrame, padsInCell, wristAt, type GripPlace } from '../model/placement.js';
import type { Refusal } from '../model/verdict.js';
import type { Part } from '../model/weldment.js';

/** How far the middle of a jaw may be off the middle of what it closes on, mm: the play of its fingers (our choice). */
const JAW_PLAY = 0.5;
/** Overlap of a finger with the part beside its pad that counts as touching, mm. */
const FINGER_TOUCH = 0.05;

/** Tests that a grip must pass by itself, in this order: the later a refusal, the nearer the grip was to fitting. */
export const GRIP_TESTS = [
  'payload',
  'not-magnetic',
  'magnet-too-hot',
  'jaw-no-face',
  'jaw-stroke',
  'footprint',
  'jaw-off-centre',
  'finger-meets-part',
  'wrist-moment',
  'wrist-inertia',
  'gripper-in-part',
  'dominated',
] as const;

/** A part, a gripper and where it takes it. */
interface Candidate {
  readonly part: Part;
  /** In the part's own frame. */
  readonly solid: Solid;
  readonly grip: GripPlace;
}

/** Least distance from the rim of a round pad at a point to the rim of a flat face, holes included; negative over it. */
const roomOn = (face: PlanarFace, at: Vec3, radius: number): number => roomOnFace(face, at) - radius;

const refused = (
  code: string,
  about: readonly string[],
  value: number,
  limit: number,
  unit?: string,
): Refusal => ({
  code,
  subjects: about,
  value,
  limit,
  ...(unit === undefined ? {} : { unit }),
});

function flatRefusal({ part, solid, grip }: Candidate, gripper: FlatGripper): Refusal | undefined {
  const about = [part.id, gripper.id, grip.face];
  if (gripper.kind === 'magnet') {
    const { magnetic, name } = part.material;
    if (magnetic <= 0) return refused('not-magnetic', [part.id, name], magnetic, 0);
    if (tooHot(gripper))
      return refused('magnet-too-hot', about, gripper.temperature, gradeLimit(gripper.grade), 'C');
  }
  const face = solid.faces.find(({ id }) => id === grip.face)!;
  const { pads } = padsInCell(part.shape, IDENTITY, grip, gripper);
  const room = Math.min(...pads.map(({ at }) => roomOn(face, at, gripper.padDiameter / 2)));
  return room < 0 ? refused('footprint', about, room, 0, 'mm') : undefined;
}

function jawRefusal({ part, solid, grip }: Candidate, jaw: JawGripper): Refusal | undefined {
  const about = [part.id, jaw.id, grip.face];
  const frame = padFrame(part.shape, grip);
  const span = jawSpan(solid, frame, jaw);
  if (span.lowFace === undefined || span.highFace === undefined)
    return { code: 'jaw-no-face', subjects: about };
  const opening = span.high - span.low;
  const [least, whole] = jaw.stroke;
  const most = whole - 2 * (jaw.opensBy ?? 0);
  if (opening < least) return refused('jaw-stroke', about, opening, least, 'mm');
  if (opening > most) return refused('jaw-stroke', about, opening, most, 'mm');
  const [low, high] = padsInCell(part.shape, IDENTITY, grip, jaw).pads.map(({ at }) => at) as [Vec3, Vec3];
  const radius = jaw.padDiameter / 2;
  const room = Math.min(roomOn(span.lowFace, low, radius), roomOn(span.highFace, high, radius));
  if (room < 0) return refused('footprint', about, room, 0, 'mm');
  const aside = Math.abs(span.low + span.high) / 2;
  if (aside > JAW_PLAY) return refused('jaw-off-centre', about, aside, JAW_PLAY, 'mm');
  const meets = fingersOf(jaw, span).some((finger) =>
    solidsOverlap(placeSolid(finger, frame), solid, FINGER_TOUCH),
  );
  return meets ? { code: 'finger-meets-part', subjects: about } : undefined;
}

/** What the arm carries; the gripper counts as a uniform box of its envelope, an estimate. Frame of the part. */
export function loadOnWrist(
  part: Part,
  solid: Solid,
  arm: Arm,
  grip: GripPlace,
  gripper: Gripper,
): WristLoad {
  const mass = partMass(part, solid);
  const frame = padFrame(part.shape, grip);
  const { length, width, height } = gripper.envelope;
  const box = boxMass([length, width, height]);
  const bodies: CarriedBody[] = [
    { mass, centre: solid.centre, inertia: timesMass(solid.inertia, mass / solid.volume) },
    {
      mass: gripper.mass,
      centre: place(frame, [0, 0, -height / 2]),
      inertia: turnInertia(frame.turn, timesMass(box.inertia, gripper.mass / box.volume)),
    },
  ];
  const flange = gripFlange(part.shape, IDENTITY, grip, gripper);
  return wristLoad(bodies, { at: wristAt(flange, arm), turn: flange.turn });
}

const timesMass = (inertia: Solid['inertia'], density: number): Solid['inertia'] =>
  inertia.map((x) => x * density) as unknown as Solid['inertia'];

function wristRefusal(
  { part, solid, grip }: Candidate,
  robot: Handler,
  gripper: Gripper,
): Refusal | undefined {
  const about = [part.id, gripper.id, grip.face];
  const { payload, arm } = robot;
  const { moment, inertia } = loadOnWrist(part, solid, arm, grip, gripper);
  if (moment > payload.moment) return refused('wrist-moment', about, moment, payload.moment, 'N·mm');
  const over = payload.inertia?.findIndex((limit, i) => inertia[i]! > limit) ?? -1;
  if (over < 0) return undefined;
  return refused(
    'wrist-inertia',
    [...about, `axis ${over + 4}`],
    inertia[over]!,
    payload.inertia![over]!,
    'kg·m2',
  );
}

/** Why a gripper cannot take a part so, by itself: mass, material, pads, stroke and what the wrist carries. */
export function refusalOf(
  part: Part,
  solid: Solid,
  robot: Handler,
  grip: GripPlace,
  gripper: Gripper,
): Refusal | undefined {
  const { payload, id } = robot;
  const together = partMass(part, solid) + gripper.mass;
  if (together > payload.mass) return refused('payload', [part.id, id], together, payload.mass, 'kg');
  const candidate = { part, solid, grip };
  const pads = gripper.kind === 'jaw' ? jawRefusal(candidate, gripper) : flatRefusal(candidate, gripper);
  return pads ?? wristRefusal(candidate, robot, gripper);
}

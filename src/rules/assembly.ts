import { inverse, place, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { movedSystem } from '../mechanics/moved-system.js';
import { GROUND, type Bearing, type Hold, type Link, type Pad, type System } from '../mechanics/system.js';
import type { Gripper, Handler } from '../model/cell.js';
import { gripFlange, padsInCell, wristAt, type GripPlace } from '../model/placement.js';
import type { BearingPatch, Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import {
  hangingPieces,
  memberBy,
  memberUnder,
  memberWith,
  piecesOf,
  type PartForce,
  type Piece,
} from './bodies.js';
import { pullPerPad } from './pad-pull.js';

/** A tack as statics sees it, between two parts, or two members of one part, by index. Cell frame, mm; N before reduction. */
export interface LaidTack {
  readonly a: number;
  readonly b: number;
  /** Middle of the tack. */
  readonly at: Vec3;
  readonly along: Vec3;
  readonly length: number;
  readonly strength: number;
  /** Share of its strength that it has while it is still hot; cold when left out. */
  readonly hot?: number | undefined;
}

export interface HeldPart {
  readonly part: number;
  readonly grip: GripPlace;
  readonly gripper: Gripper;
  readonly robot: Handler;
}

/** A moment of the tack-up: which parts are in place, what joins them, and who holds what. */
export interface AssemblyState {
  /** Indices of the parts in place; the first of them is the one clamped to the table. */
  readonly inPlace: readonly number[];
  readonly tacks: readonly LaidTack[];
  /** Each by a robot of its own. */
  readonly held: readonly HeldPart[];
  /** Off the table, lifted by the parts, or members of parts, that stand on it, which then count as fixed. */
  readonly lifted?: boolean;
}

/** Body number of each member of a part in place: GROUND when it counts as fixed, undefined when it is not there. */
export type BodyOf = (part: number, member: number) => number | undefined;

/** A state as a system of bodies, with what each body stands for. */
export interface Assembly {
  /** In the weldment frame, so that its answers go with the weldment. */
  readonly system: System;
  /** From the cell to the frame of the system. */
  readonly frame: Pose;
  /** The body on which a force acts; undefined where that is not there, GROUND when it counts as fixed. */
  readonly bodyUnder: (force: PartForce) => number | undefined;
  /** The piece that is each body. */
  readonly pieces: readonly Piece[];
}

function bearing(
  a: number,
  b: number,
  { corners, normal }: BearingPatch,
  friction: number,
  preload: number,
): Bearing {
  return { a, b, corners, normal, friction, preload };
}

function bearingsOf(scene: Scene, state: AssemblyState, settings: Settings, bodyOf: BodyOf): Bearing[] {
  const reduced = settings.reductions.friction;
  const { clamp, friction } = scene.cell.table;
  const standing = state.lifted === true ? [] : state.inPlace;
  const onTable = standing.flatMap((part) => {
    const patches = scene.tableBearing[part]!;
    const preload = part === state.inPlace[0] ? clamp.force / Math.max(1, patches.length) : 0;
    return patches.flatMap((patch) => {
      const body = bodyOf(part, memberWith(scene, part, patch.faceB));
      if (body === undefined || body === GROUND) return [];
      return [bearing(GROUND, body, patch, friction * reduced, preload)];
    });
  });
  const inside = state.inPlace.flatMap((part) =>
    bearingsInside(scene, part, settings, (member) => bodyOf(part, member)),
  );
  return [...onTable, ...bearingsBetween(scene, settings, bodyOf), ...inside];
}

/** Where parts bear on one another, with reduced friction. */
const bearingsBetween = (scene: Scene, settings: Settings, bodyOf: BodyOf): Bearing[] =>
  pressing(scene.contacts, settings, (part, face) => bodyOf(part, memberWith(scene, part, face)));

/** Where the members of a sub-assembly bear on one another; none of another part. */
export const bearingsInside = (
  { insides }: Scene,
  part: number,
  settings: Settings,
  bodyOf: (member: number) => number | undefined,
): Bearing[] => pressing(insides[part]?.contacts ?? [], settings, bodyOf);

/** Contacts as bearings; `bodyWith` tells the body of one of the two that meet, at a face of it. */
function pressing(
  contacts: Scene['contacts'],
  settings: Settings,
  bodyWith: (one: number, face: string) => number | undefined,
): Bearing[] {
  const friction = settings.steel['contact-friction'] * settings.reductions.friction;
  return contacts.flatMap((contact) =>
    contact.bearing.flatMap((patch) => {
      const [a, b] = [bodyWith(contact.a, patch.faceA), bodyWith(contact.b, patch.faceB)];
      if (a === undefined || b === undefined || a === b) return [];
      return [bearing(a, b, patch, friction, 0)];
    }),
  );
}

/** The tacks of a state, those inside its sub-assemblies too. */
const everyLink = (scene: Scene, state: AssemblyState, settings: Settings, bodyOf: BodyOf): Link[] => [
  ...linksOf(state.tacks, settings, (part, tack) => bodyOf(part, memberUnder(scene, part, tack))),
  ...state.inPlace.flatMap((part) => linksInside(scene, part, settings, (member) => bodyOf(part, member))),
];

/** The tacks between the members of a sub-assembly, cold; none of another part. */
export const linksInside = (
  { insides }: Scene,
  part: number,
  settings: Settings,
  bodyOf: (member: number) => number | undefined,
): Link[] => linksOf(insides[part]?.tacks ?? [], settings, bodyOf);

/** Tacks as statics has them, with reduced strength; `bodyUnder` tells the body of one of the two that a tack joins. */
function linksOf(
  tacks: readonly LaidTack[],
  settings: Settings,
  bodyUnder: (one: number, tack: LaidTack) => number | undefined,
): Link[] {
  return tacks.flatMap((tack) => {
    const [a, b] = [bodyUnder(tack.a, tack), bodyUnder(tack.b, tack)];
    if (a === undefined || b === undefined || a === b) return [];
    const { at, along, length } = tack;
    const strength = tack.strength * settings.reductions.tack * (tack.hot ?? 1);
    return strength > 0 || tack.hot === undefined ? [{ a, b, at, along, length, strength }] : [];
  });
}

/** The pads of a gripper on a part at a pose, every resistance reduced. */
export function reducedPads(
  scene: Scene,
  { part, grip, gripper }: HeldPart,
  pose: Pose,
  settings: Settings,
  { body, hold }: { readonly body: number; readonly hold: number },
): Pad[] {
  const { pads } = padsInCell(scene.parts[part]!.part.shape, pose, grip, gripper);
  const { friction, pull: share } = settings.reductions;
  const pull = pullPerPad(scene, part, gripper, grip.face) * share;
  return pads.map(({ at, into }) => ({
    body,
    hold,
    at,
    normal: into,
    radius: gripper.padDiameter / 2,
    pull,
    ...(gripper.kind === 'jaw' ? { most: pull } : {}),
    friction: gripper.friction * friction,
  }));
}

/** What a handling arm can hold against when its gripper sits on a part at a pose: moments about its wrist centre. */
export function holdAt(scene: Scene, { part, grip, gripper, robot }: HeldPart, pose: Pose): Hold {
  const { payload, arm } = robot;
  const flange = gripFlange(scene.parts[part]!.part.shape, pose, grip, gripper);
  return { force: payload.force, moment: payload.moment, at: wristAt(flange, arm) };
}

/** A part alone at a pose, hanging on the pads of a grip: body 0, in the weldment frame; `frame` takes the cell there. */
export function hangingSystem(
  scene: Scene,
  held: HeldPart,
  pose: Pose,
  settings: Settings,
): { readonly system: System; readonly frame: Pose } {
  const { own, mass } = scene.parts[held.part]!;
  const system: System = {
    bodies: [{ mass, centre: place(pose, own.centre) }],
    bearings: [],
    links: [],
    pads: reducedPads(scene, held, pose, settings, { body: 0, hold: 0 }),
    holds: [holdAt(scene, held, pose)],
  };
  const frame = inverse(scene.cell.weldmentPose);
  return { system: movedSystem(system, frame), frame };
}

/**
 * The state as a system of bodies for statics, with every resistance already reduced. A sub-assembly is as many bodies as it has
 * members, which bear on one another and hang on the tacks of its own plan, cold. Parts in `secured` count as ground (a cluster
 * seen from a newcomer); leave it out for the whole assembly.
 */
export function assemblySystem(
  scene: Scene,
  state: AssemblyState,
  settings: Settings,
  secured: ReadonlySet<number> = new Set(),
): Assembly {
  const { pieces, bodyOf } = bodiesOf(scene, state, secured);
  const gripped = ({ part, grip }: HeldPart): number | undefined =>
    bodyOf(part, memberWith(scene, part, grip.face));
  const held = state.held.filter((one) => (gripped(one) ?? GROUND) >= 0);
  const poseOf = ({ part }: HeldPart): Pose => scene.parts[part]!.pose;
  const system: System = {
    bodies: pieces.map(({ mass, solid }) => ({ mass, centre: solid.centre })),
    bearings: bearingsOf(scene, state, settings, bodyOf),
    links: everyLink(scene, state, settings, bodyOf),
    pads: held.flatMap((one, hold) =>
      reducedPads(scene, one, poseOf(one), settings, { body: gripped(one)!, hold }),
    ),
    holds: held.map((one) => holdAt(scene, one, poseOf(one))),
  };
  const frame = inverse(scene.cell.weldmentPose);
  const bodyUnder: Assembly['bodyUnder'] = ({ part, member, at }) =>
    bodyOf(part, member ?? memberBy(scene, part, at));
  return { system: movedSystem(system, frame), frame, bodyUnder, pieces };
}

/** The pieces of a state that may move, in the order of the parts in place, and the numbers of all. */
function bodiesOf(
  scene: Scene,
  { inPlace, lifted }: AssemblyState,
  secured: ReadonlySet<number>,
): { readonly pieces: readonly Piece[]; readonly bodyOf: BodyOf } {
  const loose = inPlace.filter((part) => !secured.has(part));
  const pieces =
    lifted === true ? hangingPieces(scene, loose) : loose.flatMap((part) => piecesOf(scene, part));
  const numbers = new Map(inPlace.map((part) => [part, piecesOf(scene, part).map(() => GROUND)]));
  pieces.forEach(({ part, member }, body) => {
    numbers.get(part)![member] = body;
  });
  return { pieces, bodyOf: (part, member) => numbers.get(part)?.[member] };
}

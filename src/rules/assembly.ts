import { inverse, place, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { movedSystem } from '../mechanics/moved-system.js';
import { GROUND, type Bearing, type Hold, type Link, type Pad, type System } from '../mechanics/system.js';
import type { Gripper, Handler } from '../model/cell.js';
import { gripFlange, padsInCell, wristAt, type GripPlace } from '../model/placement.js';
import type { BearingPatch, Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { pullPerPad } from './pad-pull.js';

/** A tack as statics sees it, between two parts by index. Cell frame, mm; N before reduction. */
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
  /** Off the table, lifted by the parts that stand on it, which then count as fixed. */
  readonly lifted?: boolean;
}

/** Body number of each part in place: GROUND when it counts as fixed, undefined when it is not there. */
export type BodyOf = (part: number) => number | undefined;

/** A state as a system of bodies, with the part that each body stands for. */
export interface Assembly {
  /** In the weldment frame, so that its answers go with the weldment. */
  readonly system: System;
  /** From the cell to the frame of the system. */
  readonly frame: Pose;
  readonly bodyOf: BodyOf;
  /** Part index of each body. */
  readonly parts: readonly number[];
}

function bearing(a: number, b: number, patch: BearingPatch, friction: number, preload: number): Bearing {
  return { a, b, corners: patch.corners, normal: patch.normal, friction, preload };
}

function bearingsOf(scene: Scene, state: AssemblyState, settings: Settings, bodyOf: BodyOf): Bearing[] {
  const reduced = settings.reductions.friction;
  const { clamp, friction } = scene.cell.table;
  const standing = state.lifted === true ? [] : state.inPlace;
  const onTable = standing.flatMap((part) => {
    const body = bodyOf(part);
    if (body === undefined || body === GROUND) return [];
    const patches = scene.tableBearing[part]!;
    const preload = part === state.inPlace[0] ? clamp.force / Math.max(1, patches.length) : 0;
    return patches.map((patch) => bearing(GROUND, body, patch, friction * reduced, preload));
  });
  return [...onTable, ...bearingsBetween(scene, settings, bodyOf)];
}

/** Where parts bear on one another, with reduced friction. */
export const bearingsBetween = (scene: Scene, settings: Settings, bodyOf: BodyOf): Bearing[] =>
  scene.contacts.flatMap((contact) => {
    const [a, b] = [bodyOf(contact.a), bodyOf(contact.b)];
    if (a === undefined || b === undefined || a === b) return [];
    const friction = settings.steel['contact-friction'] * settings.reductions.friction;
    return contact.bearing.map((patch) => bearing(a, b, patch, friction, 0));
  });

/** Tacks as statics has them, with reduced strength. */
export function linksOf(tacks: readonly LaidTack[], settings: Settings, bodyOf: BodyOf): Link[] {
  return tacks.flatMap((tack) => {
    const [a, b] = [bodyOf(tack.a), bodyOf(tack.b)];
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

/** Parts in place that stand on the work table: by them the finished tack-up is lifted out. */
export const standingOnTable = (scene: Scene, inPlace: readonly number[]): readonly number[] =>
  inPlace.filter((part) => scene.tableBearing[part]!.length > 0);

/**
 * The state as a system of bodies for statics, with every resistance already reduced. Parts in `secured` count
 * as ground (a cluster seen from a newcomer); leave it out for the whole assembly.
 */
export function assemblySystem(
  scene: Scene,
  state: AssemblyState,
  settings: Settings,
  secured: ReadonlySet<number> = new Set(),
): Assembly {
  const fixed =
    state.lifted === true ? new Set([...secured, ...standingOnTable(scene, state.inPlace)]) : secured;
  const free = state.inPlace.filter((part) => !fixed.has(part));
  const numbers = new Map<number, number>(free.map((part, i) => [part, i]));
  for (const part of state.inPlace) if (fixed.has(part)) numbers.set(part, GROUND);
  const bodyOf: BodyOf = (part) => numbers.get(part);
  const held = state.held.filter(({ part }) => (numbers.get(part) ?? GROUND) >= 0);
  const poseOf = ({ part }: HeldPart): Pose => scene.parts[part]!.pose;
  const system: System = {
    bodies: free.map((part) => ({ mass: scene.parts[part]!.mass, centre: scene.parts[part]!.solid.centre })),
    bearings: bearingsOf(scene, state, settings, bodyOf),
    links: linksOf(state.tacks, settings, bodyOf),
    pads: held.flatMap((one, hold) =>
      reducedPads(scene, one, poseOf(one), settings, { body: numbers.get(one.part)!, hold }),
    ),
    holds: held.map((one) => holdAt(scene, one, poseOf(one))),
  };
  const frame = inverse(scene.cell.weldmentPose);
  return { system: movedSystem(system, frame), frame, bodyOf, parts: free };
}

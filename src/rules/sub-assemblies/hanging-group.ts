import { compose, inverse, type Pose } from '../../geometry/pose.js';
import { movedSystem } from '../../mechanics/moved-system.js';
import type { System } from '../../mechanics/system.js';
import { memberOfFace } from '../../model/member-faces.js';
import type { Inside, Scene } from '../../model/scene.js';
import type { Settings } from '../../model/settings.js';
import { bearingsInside, holdAt, linksInside, reducedPads, type HeldPart } from '../assembly.js';

/** A sub-assembly that hangs on a grip: its members as bodies, in their order. */
export interface HangingGroup {
  /** In the weldment frame. */
  readonly system: System;
  /** From the cell to that frame. */
  readonly frame: Pose;
  /** What it is made of, where it will finally be. */
  readonly inside: Inside;
  /** From there to where it hangs, both in the cell. */
  readonly moved: Pose;
}

/**
 * A sub-assembly at a pose, hanging on the pads of a grip, with every resistance reduced: each of its members is a body, which
 * bears on the others and is joined to them by the tacks of its plan; the pads sit on the member whose face they take.
 * Undefined where that face is of none of them, or it is not known what is in it.
 */
export function hangingGroup(
  scene: Scene,
  held: HeldPart,
  pose: Pose,
  settings: Settings,
): HangingGroup | undefined {
  const { part: own, pose: inPlace } = scene.parts[held.part]!;
  const inside = scene.insides[held.part];
  const member = memberOfFace(own.shape, held.grip.face);
  if (inside === undefined || member === undefined) return undefined;
  const body = inside.members.findIndex(({ id }) => id === member);
  const bodyOf = (one: number): number => one;
  const tacked: System = {
    bodies: inside.members.map(({ mass, solid }) => ({ mass, centre: solid.centre })),
    bearings: bearingsInside(scene, held.part, settings, bodyOf),
    links: linksInside(scene, held.part, settings, bodyOf),
    pads: [],
    holds: [],
  };
  const moved = compose(pose, inverse(inPlace));
  const system: System = {
    ...movedSystem(tacked, moved),
    pads: reducedPads(scene, held, pose, settings, { body, hold: 0 }),
    holds: [holdAt(scene, held, pose)],
  };
  const frame = inverse(scene.cell.weldmentPose);
  return { system: movedSystem(system, frame), frame, inside, moved };
}

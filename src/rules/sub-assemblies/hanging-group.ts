import { compose, inverse, type Pose } from '../../geometry/pose.js';
import { movedSystem } from '../../mechanics/moved-system.js';
import type { System } from '../../mechanics/system.js';
import { memberOfFace } from '../../model/member-faces.js';
import type { Scene } from '../../model/scene.js';
import type { Settings } from '../../model/settings.js';
import { bearingsBetween, holdAt, linksOf, reducedPads, type HeldPart, type LaidTack } from '../assembly.js';

/** A sub-assembly as its own plan leaves it, in the scene of its own weldment. */
export interface TackedGroup {
  readonly scene: Scene;
  /** Pose of the frame of its shape there, in the cell. */
  readonly pose: Pose;
  /** All its tacks, cold. */
  readonly tacks: readonly LaidTack[];
}

/** A sub-assembly that hangs on a grip: its parts as bodies, in the order of its own scene. */
export interface HangingGroup {
  /** In the weldment frame. */
  readonly system: System;
  /** From the cell to that frame. */
  readonly frame: Pose;
  /** From where the sub-assembly was tacked to where it hangs, both in the cell. */
  readonly moved: Pose;
  /** The body on which the pads sit. */
  readonly gripped: number;
}

/**
 * A sub-assembly at a pose, hanging on the pads of a grip, with every resistance reduced: each of its parts is a body, which
 * bears on the others and is joined to them by the tacks of its plan; the pads sit on the part whose face they take.
 * Undefined where that face is of none of them.
 */
export function hangingGroup(
  main: Scene,
  held: HeldPart,
  pose: Pose,
  { scene, pose: tackedAt, tacks }: TackedGroup,
  settings: Settings,
): HangingGroup | undefined {
  const member = memberOfFace(main.parts[held.part]!.part.shape, held.grip.face);
  const gripped = member === undefined ? undefined : scene.index.get(member);
  if (gripped === undefined) return undefined;
  const bodyOf = (part: number): number => part;
  const tacked: System = {
    bodies: scene.parts.map(({ mass, solid }) => ({ mass, centre: solid.centre })),
    bearings: bearingsBetween(scene, settings, bodyOf),
    links: linksOf(tacks, settings, bodyOf),
    pads: [],
    holds: [],
  };
  const moved = compose(pose, inverse(tackedAt));
  const system: System = {
    ...movedSystem(tacked, moved),
    pads: reducedPads(main, held, pose, settings, { body: gripped, hold: 0 }),
    holds: [holdAt(main, held, pose)],
  };
  const frame = inverse(main.cell.weldmentPose);
  return { system: movedSystem(system, frame), frame, moved, gripped };
}

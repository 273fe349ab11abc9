import { rotate, transpose } from '../geometry/pose.js';
import { along, cross, perpendicular, type Vec3 } from '../geometry/vector.js';
import type { Spring } from '../mechanics/point-store.js';
import { GROUND, STANDARD_GRAVITY } from '../mechanics/system.js';
import { padsInCell } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { HeldPart } from './assembly.js';
import { pullPerPad } from './pad-pull.js';

/** Friction of a round pad acts at two thirds of its radius (mechanics/pads.ts); three points there stand for it. */
const FRICTION_RADIUS = 2 / 3;
const POINTS = [0, 1, 2].map((i) => (i * 2 * Math.PI) / 3);

/** The points of a pad; turned as the part is, so that they go with it. */
function padPoints(scene: Scene, part: number, at: Vec3, into: Vec3, radius: number): Vec3[] {
  const { turn } = scene.parts[part]!.pose;
  const x = rotate(turn, perpendicular(rotate(transpose(turn), into)));
  const y = cross(into, x);
  return POINTS.map((angle) =>
    along(
      along(at, x, FRICTION_RADIUS * radius * Math.cos(angle)),
      y,
      FRICTION_RADIUS * radius * Math.sin(angle),
    ),
  );
}

/**
 * A hold as springs from the ground to the pads: together as stiff as the arm, in every direction, and slipping at the
 * friction of the pads under their unreduced pull: a screening estimate, where a low slip would flatter nothing but the
 * hold. A magnet pulls harder square to its face than it holds along it; it is taken to slip alike.
 */
export function holdSprings(
  scene: Scene,
  { part, grip, gripper }: HeldPart,
  settings: Settings,
): readonly Spring[] {
  const { shape } = scene.parts[part]!.part;
  const { pads } = padsInCell(shape, scene.parts[part]!.pose, grip, gripper);
  const slip = gripper.friction * pullPerPad(scene, part, gripper, grip.face);
  const share = 1 / POINTS.length;
  return pads.flatMap(({ at, into }) =>
    padPoints(scene, part, at, into, gripper.padDiameter / 2).map((point): Spring => ({
      ...{ a: GROUND, b: part, at: point },
      stiffness: (settings.distortion['arm-stiffness'] / pads.length) * share,
      most: slip * share,
    })),
  );
}

/**
 * What keeps the first part on the table: its clamps, which do not slip; where there are none, the friction of the table
 * under its weight. They act where it bears on the table.
 */
export function clampSprings(scene: Scene, part: number, settings: Settings): readonly Spring[] {
  const { clamp, friction } = scene.cell.table;
  const { solid, mass } = scene.parts[part]!;
  const corners = scene.tableBearing[part]!.flatMap((patch) => patch.corners);
  const points = corners.length > 0 ? corners : [solid.centre];
  const most = clamp.force > 0 ? Infinity : friction * mass * STANDARD_GRAVITY;
  return points.map((at): Spring => ({
    ...{ a: GROUND, b: part, at },
    stiffness: settings.distortion['clamp-stiffness'] / points.length,
    most: most / points.length,
  }));
}

import { rotate, transpose } from '../geometry/pose.js';
import { along, cross, dot, perpendicular, type Vec3 } from '../geometry/vector.js';
import type { Spring, Stop } from '../mechanics/point-store.js';
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

/** A point of a pad that holds: where, from the pad into the part, how stiff, N/mm, and at what force it slips, N. */
interface HoldPoint {
  readonly at: Vec3;
  readonly into: Vec3;
  readonly stiffness: number;
  readonly slip: number;
}

function holdPoints(
  scene: Scene,
  { part, grip, gripper }: HeldPart,
  settings: Settings,
): readonly HoldPoint[] {
  const { shape } = scene.parts[part]!.part;
  const { pads } = padsInCell(shape, scene.parts[part]!.pose, grip, gripper);
  const slip = gripper.friction * pullPerPad(scene, part, gripper, grip.face);
  const stiffness = settings.distortion['arm-stiffness'] / pads.length;
  return pads.flatMap(({ at, into }) =>
    padPoints(scene, part, at, into, gripper.padDiameter / 2).map((point) => ({
      ...{ at: point, into, stiffness: stiffness / POINTS.length, slip: slip / POINTS.length },
    })),
  );
}

/**
 * A hold as springs from the ground to the pads: together as stiff as the arm, in every direction, and slipping at the
 * friction of the pads under their unreduced pull (a reserve would understate what the hold does). A magnet pulls harder
 * square to its face than it holds along it; it is taken to slip alike.
 */
export const holdSprings = (scene: Scene, held: HeldPart, settings: Settings): readonly Spring[] =>
  holdPoints(scene, held, settings).map(({ at, stiffness, slip }): Spring => ({
    ...{ a: GROUND, b: held.part, at, stiffness, most: slip },
  }));

/**
 * Where a part that moves toward its gripper is pressed back: pads do not slip that way. A stop takes over where the spring
 * of its point has slipped, so that both together are as stiff as the arm. `displacement` of the part when it is taken.
 */
export const holdStops = (
  scene: Scene,
  held: HeldPart,
  settings: Settings,
  displacement: (at: Vec3) => Vec3,
): readonly Stop[] =>
  holdPoints(scene, held, settings).map(({ at, into, stiffness, slip }): Stop => ({
    ...{ a: GROUND, b: held.part, at, normal: into, stiffness },
    gap: slip / stiffness - dot(displacement(at), into),
  }));

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

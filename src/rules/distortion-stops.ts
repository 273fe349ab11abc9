import type { Vec3 } from '../geometry/vector.js';
import type { Stop } from '../mechanics/point-store.js';
import { GROUND } from '../mechanics/system.js';
import { TOUCHES, type Contact, type Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';

/**
 * Where two parts in place may press on each other: at the corners of what bears, and across a root gap, which may
 * close and then bears too. Bodies are part indices.
 */
export function contactStops(contact: Contact, settings: Settings): readonly Stop[] {
  const { a, b, bearing, patches } = contact;
  const stiffness = settings.distortion['bearing-stiffness'];
  const stop = (at: Vec3, normal: Vec3, gap: number): Stop => ({ a, b, at, normal, stiffness, gap });
  return [
    ...bearing.flatMap(({ corners, normal }) => corners.map((at) => stop(at, normal, 0))),
    ...patches
      .filter(({ gap }) => gap > TOUCHES)
      .flatMap(({ polygon, normal, gap }) => polygon.map((at) => stop(at, normal, gap))),
  ];
}

/** Where the work table may press on a part. */
export function tableStops(scene: Scene, part: number, settings: Settings): readonly Stop[] {
  const stiffness = settings.distortion['bearing-stiffness'];
  return scene.tableBearing[part]!.flatMap(({ corners, normal }) =>
    corners.map((at): Stop => ({ a: GROUND, b: part, at, normal, stiffness, gap: 0 })),
  );
}

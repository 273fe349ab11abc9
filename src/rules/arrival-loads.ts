import { polygonCentroid } from '../geometry/polygon.js';
import { dot, scale, type Vec3 } from '../geometry/vector.js';
import { normalInto, type Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { memberWith } from './bodies.js';
import { loadOn, type PartLoad } from './load-cases.js';

/** A part slides along a face when its travel leaves the face at less than this: sine of about 6 degrees. */
const ALONG = 0.1;

/**
 * What a part does to the parts in place while it arrives: it is pressed on those that stop it, and drags along those
 * on which it slides. `direction` is that of its travel, unit, cell frame. One load for each patch in question.
 */
export function arrivalLoads(
  scene: Scene,
  part: number,
  direction: Vec3,
  inPlace: readonly number[],
  settings: Settings,
): PartLoad[] {
  const { 'seating-push': push, 'sliding-drag': drag } = settings.loads;
  return scene.contacts.flatMap((contact) => {
    const other = contact.a === part ? contact.b : contact.b === part ? contact.a : -1;
    if (!inPlace.includes(other)) return [];
    const name = scene.parts[other]!.part.id;
    return contact.patches.flatMap(({ normal, polygon, faceA, faceB }): PartLoad[] => {
      // Out of the newcomer, into its neighbour.
      const head = dot(direction, normalInto(contact, other, normal));
      if (head < -ALONG) return [];
      const [kind, force] =
        head > ALONG ? (['seating push', push] as const) : (['sliding drag', drag] as const);
      if (force === 0) return [];
      const at = polygonCentroid(polygon);
      const member = memberWith(scene, other, contact.a === other ? faceA : faceB);
      return [loadOn(other, `${kind} on ${name}`, [{ member, force: scale(direction, force), at }])];
    });
  });
}

/** The push with which a part that has arrived is seated, on the part itself. */
export const seatingLoads = (scene: Scene, part: number, direction: Vec3, settings: Settings): PartLoad[] =>
  settings.loads['seating-push'] === 0
    ? []
    : [
        loadOn(part, `seating push on ${scene.parts[part]!.part.id}`, [
          { force: scale(direction, settings.loads['seating-push']), at: scene.parts[part]!.solid.centre },
        ]),
      ];

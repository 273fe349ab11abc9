import type { Spring } from '../mechanics/point-store.js';
import { GROUND, STANDARD_GRAVITY } from '../mechanics/system.js';
import { normalInto, type Scene } from '../model/scene.js';

/** A face bears a part from below where its normal is as good as upright: nothing then slides off it without friction. */
const UPRIGHT = 0.99;
/** The weight pulls like a spring that wants to be this far below, mm: over a millimetre its pull changes by a thousandth. */
const BELOW = 1000;

/** Whether a part is borne from below by the table or by others in place. */
export const isBorne = (scene: Scene, part: number, isInPlace: (other: number) => boolean): boolean =>
  scene.tableBearing[part]!.length > 0 ||
  scene.contacts.some((contact) => {
    const { a, b, bearing } = contact;
    if (a !== part && b !== part) return false;
    return (
      isInPlace(a === part ? b : a) &&
      bearing.some(({ normal }) => normalInto(contact, part, normal)[2] > UPRIGHT)
    );
  });

/** The weight of a part, at its centre of mass. */
export const weightSprings = (scene: Scene, part: number): readonly Spring[] => {
  const { solid, mass } = scene.parts[part]!;
  const stiffness = (mass * STANDARD_GRAVITY) / BELOW;
  return [{ a: GROUND, b: part, at: solid.centre, stiffness, most: Infinity, shrink: [0, 0, -BELOW] }];
};

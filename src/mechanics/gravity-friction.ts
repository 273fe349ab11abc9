import { dot, negate } from '../geometry/vector.js';
import type { Bearing, System } from './system.js';
import { GROUND, gravityOf } from './system.js';

/**
 * A bearing counts as pressed by gravity only if its push on the body above rises at 30 degrees or more:
 * |normal . up| at least sin 30. Below a friction coefficient of tan 30 deg = 0.577 a face that presses down at that
 * slope cannot lift by friction what it presses. Our choice, no source.
 */
export const PRESSED_SLOPE = 0.5;
/** A push that rises less than this does not help to carry. */
const CARRYING_SLOPE = 1e-6;

/**
 * How far gravity alone may be trusted to press a bearing, so that friction may be counted before anything moves:
 * - `sure`: it pushes a body up that nothing else carries, or stands on ground;
 * - `perhaps`: the body above has other support too, such as tacks: it presses only if it needs this one;
 * - `no`: too steep, or the ground would have to press down.
 */
export type Pressed = 'sure' | 'perhaps' | 'no';

export function pressedByGravity(system: System, bearing: Bearing): Pressed {
  const rise = riseOf(system, bearing);
  if (Math.abs(rise) < PRESSED_SLOPE) return 'no';
  const { upper, lower } = sides(system, bearing);
  if (upper === GROUND) return 'no';
  if (lower === GROUND) return 'sure';
  return carriedOnlyBy(system, upper, lower) ? 'sure' : 'perhaps';
}

/** The body that the bearing pushes up, and the one that it pushes down. */
export function sides(system: System, bearing: Bearing): { readonly upper: number; readonly lower: number } {
  return riseOf(system, bearing) > 0
    ? { upper: bearing.b, lower: bearing.a }
    : { upper: bearing.a, lower: bearing.b };
}

/** The same system with one body gone: weightless, and touched by nothing. Body numbers stay. */
export function without(system: System, body: number): System {
  const apart = ({ a, b }: { readonly a: number; readonly b: number }): boolean => a !== body && b !== body;
  return {
    ...system,
    bodies: system.bodies.map((other, i) => (i === body ? { ...other, mass: 0 } : other)),
    bearings: system.bearings.filter(apart),
    links: system.links.filter(apart),
    pads: system.pads.filter((pad) => pad.body !== body),
  };
}

const riseOf = (system: System, bearing: Bearing): number =>
  dot(bearing.normal, negate(gravityOf(system).direction));

function carriedOnlyBy(system: System, upper: number, lower: number): boolean {
  if (system.links.some(({ a, b }) => a === upper || b === upper)) return false;
  if (system.pads.some(({ body }) => body === upper)) return false;
  return system.bearings.every((bearing) => {
    if (bearing.a !== upper && bearing.b !== upper) return true;
    const other = bearing.a === upper ? bearing.b : bearing.a;
    const rise = riseOf(system, bearing) * (bearing.b === upper ? 1 : -1);
    return other === lower || (rise <= CARRYING_SLOPE && bearing.preload === 0);
  });
}

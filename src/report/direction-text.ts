import type { Vec3 } from '../geometry/vector.js';
import { amount, listed } from './numbers.js';

const SIDES = [
  ['+x', '-x'],
  ['+y', '-y'],
  ['above', 'below'],
] as const;

/** Shares of a direction smaller than this are none. */
const NONE = 1e-3;

/** Where a direction leads or comes from: `above`, `+x and above`; its numbers when it is no plain mix of sides. */
export function sideText(direction: Vec3): string {
  const shares = direction.filter((share) => Math.abs(share) > NONE).map(Math.abs);
  if (shares.some((share) => Math.abs(share - shares[0]!) > NONE))
    return `(${direction.map((share) => amount(share, 2)).join(', ')})`;
  const sides = SIDES.flatMap(([up, down], i) =>
    Math.abs(direction[i]!) <= NONE ? [] : [direction[i]! > 0 ? up : down],
  );
  return listed(sides);
}

import { snap } from '../base/order.js';
import type { Refusal } from '../model/verdict.js';

/** Misses by an angle come before those by a distance: a pose that no branch takes is farther off than one that some does. */
const kindOf = ({ value, limit, unit }: Refusal): number =>
  value === undefined || limit === undefined ? 2 : unit === 'mm' ? 1 : 0;

/** Whether one miss of an arm is smaller than another; of two kinds, an angle is nearer than a distance. */
export function isNearer(next: Refusal, known: Refusal | undefined): boolean {
  if (known === undefined) return true;
  const kinds = kindOf(next) - kindOf(known);
  if (kinds !== 0 || kindOf(next) === 2) return kinds < 0;
  const off = ({ value, limit }: Refusal): number => Math.abs(value! - limit!);
  return snap(off(next) - off(known), 1e-9) < 0;
}

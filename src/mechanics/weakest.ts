import type { Optimal } from '../algorithms/linear-program.js';
import type { ContactLayout, Layout } from './equilibrium-program.js';
import type { System } from './system.js';
import type { Element } from './verdict.js';

/** A share of the factor, or a gain a newton, below this is rounding. */
const GRAIN = 1e-9;

/** Upper bounds of the friction rows that were in force, by bearing and by pad, N. */
export interface FrictionBounds {
  readonly bearings: readonly number[];
  readonly pads: readonly number[];
}

interface Share extends Element {
  readonly share: number;
}

/**
 * The element to whose limit the factor owes most. At an optimum the factor is the sum, over all limits, of the limit
 * times its dual (strong duality), so each tack, pad, hold and friction bound has its share. What gravity itself
 * contributes is owed to the bearing on which it presses: that where a newton of pull would help most. A pad's pull
 * and its greatest push count together, for they are of one make. Expects an
 * optimum of the program "minimise minus the factor". Ties go to bearings, links, pads, holds, lowest number first.
 */
export function weakestElement(
  system: System,
  layout: Layout,
  friction: FrictionBounds,
  optimum: Optimal,
): Element | undefined {
  const { duals, values } = optimum;
  if (duals === undefined) return undefined;
  const relief = layout.bearings.map((bearing) =>
    liftGain(bearing, duals.columns).reduce((a, b) => a + b, 0),
  );
  const pressed = relief.reduce((best, gain, i) => (gain > (relief[best] ?? 0) + GRAIN ? i : best), -1);
  const byWeight = Math.max(0, -duals.columns[layout.gravity]! * values[layout.gravity]!);
  const frictionShare = (row: number | undefined, bound: number): number =>
    row === undefined || !Number.isFinite(bound) ? 0 : -duals.rows[row]! * bound;
  const shares: Share[] = [
    ...layout.bearings.map((bearing, index): Share => {
      const preload = system.bearings[index]!.preload * mean(liftGain(bearing, duals.columns));
      const weight = index === pressed ? byWeight : 0;
      const rubbing = frictionShare(bearing.frictionRow, friction.bearings[index]!);
      return { kind: 'bearing', index, share: preload + weight + rubbing };
    }),
    ...layout.links.map((link, index): Share => {
      const perNewton = link.halves.reduce((sum, { row }) => sum - duals.rows[row]!, 0);
      return { kind: 'link', index, share: (perNewton * system.links[index]!.strength) / 2 };
    }),
    ...layout.pads.map((pad, index): Share => {
      const { pull, most = 0 } = system.pads[index]!;
      // The price of the greatest push is in the reduced costs too, from which it is taken off again.
      const price = pad.mostRow === undefined ? 0 : Math.max(0, -duals.rows[pad.mostRow]!);
      const own = pull * (mean(liftGain(pad, duals.columns)) - price) + most * price;
      return { kind: 'pad', index, share: own + frictionShare(pad.frictionRow, friction.pads[index]!) };
    }),
    ...layout.holds.map((rows, index): Share => ({
      kind: 'hold',
      index,
      share: holdShare(system, index, rows, duals.rows),
    })),
  ];
  const best = shares.reduce<Share | undefined>(
    (found, share) => (share.share > (found?.share ?? 0) + GRAIN ? share : found),
    undefined,
  );
  if (best !== undefined) return { kind: best.kind, index: best.index };
  return pressed >= 0 ? { kind: 'bearing', index: pressed } : undefined;
}

/** By how much the factor would grow for a newton of pull at each point. */
const liftGain = (contact: ContactLayout, reducedCosts: Float64Array): number[] =>
  contact.points.map((terms) => Math.max(0, reducedCosts[terms[0]!.column]!));

const mean = (list: readonly number[]): number =>
  list.length === 0 ? 0 : list.reduce((a, b) => a + b, 0) / list.length;

function holdShare(
  system: System,
  index: number,
  rows: readonly (number | undefined)[],
  rowDuals: Float64Array,
): number {
  const { force, moment } = system.holds[index]!;
  return rows.reduce<number>((sum, row, axis) => {
    if (row === undefined) return sum;
    return sum + Math.abs(rowDuals[row]!) * (axis < 3 ? force : moment * 1e-3);
  }, 0);
}

import { FRICTION_ROOM, normalOf, type Layout } from './equilibrium-program.js';
import { pressedByGravity, sides } from './gravity-friction.js';
import type { System } from './system.js';
import type { FrictionBounds } from './weakest.js';

/** Bounds of friction in step 1; `trusted` says of a doubtful bearing whether gravity presses it. */
export const frictionAtRest = (system: System, trusted: (lower: number) => boolean): FrictionBounds => ({
  bearings: system.bearings.map((bearing) => {
    const pressed = pressedByGravity(system, bearing);
    const free = pressed === 'sure' || (pressed === 'perhaps' && trusted(sides(system, bearing).lower));
    return free ? Infinity : bearing.preload;
  }),
  pads: system.pads.map(({ pull }) => pull),
});

/** Bounds of friction in step 2, by the strengths found in step 1. */
export const frictionAfter = (system: System, layout: Layout, step1: Float64Array): FrictionBounds => ({
  bearings: layout.bearings.map(
    (contact, i) => Math.max(system.bearings[i]!.preload, normalOf(contact, step1)) + FRICTION_ROOM,
  ),
  pads: system.pads.map(({ pull }) => pull + FRICTION_ROOM),
});

/** What is sure of the friction in step 2 before step 1 is solved. */
export const frictionByClamping = ({ bearings, pads }: System): FrictionBounds => ({
  bearings: bearings.map(({ preload }) => preload + FRICTION_ROOM),
  pads: pads.map(({ pull }) => pull + FRICTION_ROOM),
});

/** The friction rows of a program with their bounds. */
export function frictionRows(layout: Layout, bounds: FrictionBounds): readonly (readonly [number, number])[] {
  const of = (contacts: Layout['bearings'], limits: readonly number[]) =>
    contacts.flatMap(({ frictionRow }, i) =>
      frictionRow === undefined ? [] : [[frictionRow, limits[i]!] as const],
    );
  return [...of(layout.bearings, bounds.bearings), ...of(layout.pads, bounds.pads)];
}

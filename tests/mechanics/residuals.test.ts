import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { residuals } from '../../src/mechanics/residuals.js';
import type { ForceSet } from '../../src/mechanics/verdict.js';
import { bearingOf, bodyAt, linkAt, padAt, push, rectangle, systemOf } from './scenes.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const system = systemOf({
  bodies: [bodyAt([0, 0, 50], 10)],
  bearings: [bearingOf(rectangle([-50, 50], [-50, 50], 0), { friction: 0.3, preload: 40 })],
  links: [linkAt([0, 50, 0], { strength: 60 }), linkAt([0, -50, 0], { strength: 60 })],
  pads: [padAt([0, 0, 100])],
  holds: [{ force: 200, moment: 20_000, at: [0, 0, 300] }],
});
const disturbance = push([30, 10, 0], [0, 0, 90]);

const found = (): { gravityForces: ForceSet; forces: ForceSet } => {
  const { gravity, disturbances } = judge(programs, system, [disturbance], { cold: true, forces: true });
  return { gravityForces: gravity.forces!, forces: disturbances[0]!.forces! };
};

/** The same nested list with one vector changed. */
const altered = (list: readonly (readonly Vec3[])[], by: (force: Vec3) => Vec3): Vec3[][] =>
  list.map((forces, i) => forces.map((force, k) => (i === 0 && k === 0 ? by(force) : force)));

describe('forces put back into the equations', () => {
  it('of a judged system leave nothing over', () => {
    const { forces, gravityForces } = found();
    const rest = residuals(system, forces, { disturbance, gravityForces });
    expect(rest.worst).toBeLessThan(1e-6);
    expect(residuals(system, gravityForces).worst).toBeLessThan(1e-6);
    expect(forces.disturbance).toBeGreaterThan(1);
  });

  it('show a force or moment left over, by its size', () => {
    const { forces } = found();
    const more = { ...forces, disturbance: forces.disturbance + 1 };
    const rest = residuals(system, more, { disturbance });
    expect(rest.force).toBeCloseTo(Math.hypot(30, 10), 6);
    // The push acts 40 mm above the centre.
    expect(rest.moment).toBeCloseTo(Math.hypot(30, 10) * 0.04, 6);
    expect(residuals(system, forces).force).toBeGreaterThan(1);
  });

  it('show a pulling contact, friction beyond the cone, and a tack beyond its strength', () => {
    const { forces } = found();
    const pulling = { ...forces, bearings: altered(forces.bearings, () => [0, 0, -7]) };
    expect(residuals(system, pulling, { disturbance }).cone).toBeCloseTo(7, 9);
    const rubbing = { ...forces, pads: altered(forces.pads, () => [10, 0, -20]) };
    expect(residuals(system, rubbing, { disturbance }).cone).toBeCloseTo(10 - 0.2 * 20, 9);
    const torn = { ...forces, links: altered(forces.links, () => [0, 30, 40]) };
    expect(residuals(system, torn, { disturbance }).strength).toBeCloseTo(50 - 30, 9);
  });

  it('show a hold beyond its limits in force and in moment', () => {
    const { forces } = found();
    const rest = residuals({ ...system, holds: [{ force: 0, moment: 0, at: [0, 0, 300] }] }, forces, {
      disturbance,
    });
    expect(rest.hold).toBeGreaterThan(0);
    // A force of 100 N more along the face of the pad, 200 mm below the flange.
    const pulled = { ...forces, pads: altered(forces.pads, ([x, y, z]) => [x + 1000, y, z]) };
    expect(residuals(system, pulled, { disturbance }).hold).toBeGreaterThan(600);
  });

  it('show friction of a whole patch beyond what gravity pressed', () => {
    const { forces, gravityForces } = found();
    const pressed = {
      ...forces,
      bearings: forces.bearings.map((list) => list.map((): Vec3 => [30, 0, 100])),
    };
    const normal = gravityForces.bearings[0]!.reduce((sum, force) => sum + force[2], 0);
    expect(residuals(system, pressed, { gravityForces }).friction).toBeCloseTo(
      120 - 0.3 * Math.max(40, normal),
      6,
    );
    expect(residuals(system, pressed).friction).toBe(0);
  });
});

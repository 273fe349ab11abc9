import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { prepare } from '../../src/mechanics/equilibrium.js';
import { GROUND, type Bearing, type Disturbance, type System } from '../../src/mechanics/system.js';
import type { ForceSet } from '../../src/mechanics/verdict.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { ForceCheck } from '../../src/rules/force-check.js';

const programs = await loadLinearPrograms();

/** Our own invention: 10 kg between two walls on a table; nothing presses the walls but what pushes. */
const wall = (side: 1 | -1): Bearing => ({
  ...{ a: GROUND, b: 0, normal: [0, -side, 0], friction: 0.3, preload: 0 },
  corners: [
    [-100, 100 * side, 0],
    [100, 100 * side, 0],
    [100, 100 * side, 40],
    [-100, 100 * side, 40],
  ],
});
const system: System = {
  bodies: [{ mass: 10, centre: [0, 0, 20] }],
  bearings: [
    {
      ...{ a: GROUND, b: 0, normal: [0, 0, 1], friction: 0.2, preload: 0 },
      corners: [
        [-100, -100, 0],
        [100, -100, 0],
        [100, 100, 0],
        [-100, 100, 0],
      ],
    },
    wall(1),
    wall(-1),
  ],
  ...{ links: [], pads: [], holds: [] },
};
const push: Disturbance = {
  name: 'push 0 deg',
  forces: [{ body: 0, force: [30, 0, 0], at: [0, 0, 0] }],
};

/** The forces with more pressing at every corner. */
const pressed = (forces: ForceSet, more: number): ForceSet => ({
  ...forces,
  bearings: forces.bearings.map((corners, i) =>
    corners.map(
      (force) =>
        force.map((value, axis) => value + more * system.bearings[i]!.normal[axis]!) as unknown as Vec3,
    ),
  ),
});

function judged() {
  const judge = prepare(programs, system, [push], { cold: true, forces: true });
  try {
    return { gravity: judge.gravity(), pushed: judge.disturbance(0), step1: judge.step1()! };
  } finally {
    judge.dispose();
  }
}

describe('forces put back into the equations', () => {
  const { gravity, pushed, step1 } = judged();
  const of = (found: ForceSet) => new ForceCheck(system, { usesStep1: true, step1: () => found });
  const unasked = new ForceCheck(system, {
    usesStep1: false,
    step1: () => {
      throw new Error('not to be asked');
    },
  });

  it('miss nothing where they are right', () => {
    expect(pushed.reserve).toBeGreaterThan(0);
    expect(pushed.reserve).toBeLessThan(1);
    expect(of(step1).missOf(gravity)).toBe(0);
    expect(of(step1).missOf(pushed, push)).toBe(0);
  });

  it('are held against clamping alone where no step 1 was needed', () => {
    expect(unasked.missOf(pushed, push)).toBeGreaterThan(1);
    const still = { ...pushed, forces: { ...gravity.forces!, disturbance: 0 } };
    expect(unasked.missOf(still, push)).toBe(of(step1).missOf(still, push));
  });

  it('do not count where step 1, by which their friction is bounded, is no balance itself', () => {
    expect(of(pressed(step1, 200)).missOf(pushed, push)).toBeGreaterThan(100);
  });

  it('miss what is left over on a body, and friction beyond what presses', () => {
    const wrong = { ...gravity, forces: pressed(gravity.forces!, 50) };
    expect(of(step1).missOf(wrong)).toBeGreaterThan(100);
    const harder = { ...pushed, forces: { ...pushed.forces!, disturbance: 10 } };
    expect(of(step1).missOf(harder, push)).toBeGreaterThan(100);
  });
});

import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import type { Bearing, Disturbance, System } from '../../src/mechanics/system.js';
import { WEIGHT_OF_ONE, bearingOf, bodyAt, linkAt, push, rectangle, systemOf } from './scenes.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const gravityOn = (system: System) => judge(programs, system, [], { cold: true }).gravity;
const reserveOf = (system: System, disturbance: Disturbance) =>
  judge(programs, system, [disturbance], { cold: true }).disturbances[0]!;

/**
 * Three-hinge arch, by the textbook method: moments of the whole about a support give the upright reactions,
 * moments of one half about the crown give the thrust. A tack is a hinge about its own line, so tacks along y are
 * the hinges of an arch in the plane of x and z; its two points carry |Fx| + |Fz| up to its strength.
 */
describe('a three-hinge arch of span 2 l and rise h (statics textbook; derived here)', () => {
  const [l, h] = [800, 500];
  const arch = (mass: number, support: number, crown: number): System =>
    systemOf({
      bodies: [bodyAt([-l / 2, 0, h / 2], mass), bodyAt([l / 2, 0, h / 2], mass)],
      links: [
        linkAt([-l, 0, 0], { b: 0, along: [0, 1, 0], strength: support }),
        linkAt([l, 0, 0], { b: 1, along: [0, 1, 0], strength: support }),
        linkAt([0, 0, h], { a: 0, b: 1, along: [0, 1, 0], strength: crown }),
      ],
    });
  const weight = 10 * WEIGHT_OF_ONE;

  it('pushes outward with H = W (l/2) / h under its own weight, W upward at each support', () => {
    const thrust = (weight * l) / 2 / h;
    const supports = gravityOn(arch(10, 500, 5000));
    expect(supports.reserve).toBeCloseTo(500 / (thrust + weight), 5);
    expect(supports.weakest).toMatchObject({ kind: 'link' });
    // By symmetry the crown carries the thrust alone.
    const crown = gravityOn(arch(10, 5000, 150));
    expect(crown.reserve).toBeCloseTo(150 / thrust, 5);
    expect(crown.weakest).toEqual({ kind: 'link', index: 2 });
  });

  it.each([-600, -400, -100])('carries a load at x = %d mm by V = P (l +- x) / 2 l and H = V l / h', (x) => {
    const far = (100 * (l + x)) / (2 * l);
    const near = 100 - far;
    const thrust = (far * l) / h;
    const load = push([0, 0, -100], [x, 0, h / 2]);
    const found = reserveOf(arch(0, 300, 5000), load);
    expect(found.reserve).toBeCloseTo(300 / (thrust + near), 5);
    expect(found.weakest).toEqual({ kind: 'link', index: 0 });
    expect(reserveOf(arch(0, 5000, 200), load).reserve).toBeCloseTo(200 / (thrust + far), 5);
  });

  it('falls when a hinge is missing', () => {
    const { links, ...rest } = arch(10, 500, 500);
    expect(gravityOn({ ...rest, links: links.slice(0, 2) })).toMatchObject({ stands: false, reserve: 0 });
  });
});

/** Wedges without friction on their slopes, by resolving each body alone. */
describe('wedges (statics textbook: free body by free body; derived here)', () => {
  const slope = (degrees: number, side: 1 | -1): Vec3 => {
    const angle = (degrees * Math.PI) / 180;
    return [side * Math.cos(angle), 0, Math.sin(angle)];
  };
  const edge = (x: number, z: number): Vec3[] => [
    [x, -40, z],
    [x, 40, z],
  ];

  it.each([30, 45, 60])(
    'a keystone with faces at %d degrees to the vertical pushes its abutments apart with W / (2 tan)',
    (degrees) => {
      // Each face carries N = W / (2 sin a), so the abutments slide when mu (W/2 + A) < W / (2 tan a).
      const [keystone, abutment] = [4 * WEIGHT_OF_ONE, 10 * WEIGHT_OF_ONE];
      const needed = keystone / (2 * Math.tan((degrees * Math.PI) / 180)) / (keystone / 2 + abutment);
      const vault = (friction: number): System =>
        systemOf({
          bodies: [bodyAt([0, 0, 60], 4), bodyAt([-100, 0, 50], 10), bodyAt([100, 0, 50], 10)],
          bearings: [
            bearingOf(edge(-20, 50), { a: 1, b: 0, normal: slope(degrees, 1), friction: 0 }),
            bearingOf(edge(20, 50), { a: 2, b: 0, normal: slope(degrees, -1), friction: 0 }),
            bearingOf(rectangle([-200, -20], [-60, 60], 0), { b: 1, friction }),
            bearingOf(rectangle([20, 200], [-60, 60], 0), { b: 2, friction }),
          ],
        });
      expect(gravityOn(vault(needed + 1e-4)).stands).toBe(true);
      expect(gravityOn(vault(needed - 1e-4)).stands).toBe(false);
    },
  );

  it('a wedge under a guided block is driven out with W tan a', () => {
    const degrees = 20;
    // The slope pushes the block up and against a smooth wall; the wedge is held by one tack.
    const angle = (degrees * Math.PI) / 180;
    const system = systemOf({
      bodies: [bodyAt([0, 0, 10], 0), bodyAt([0, 0, 80], 6)],
      bearings: [
        bearingOf(rectangle([-80, 80], [-60, 60], 0), { b: 0, friction: 0 }),
        bearingOf(
          [-20, 20].flatMap((x) => edge(x, 40 - x * Math.tan(angle))),
          { a: 0, b: 1, normal: [Math.sin(angle), 0, Math.cos(angle)], friction: 0 },
        ),
        bearingOf(
          [60, 120].flatMap((z) => edge(50, z)),
          { b: 1, normal: [-1, 0, 0], friction: 0 },
        ),
      ],
      links: [linkAt([-80, 0, 0], { b: 0, along: [0, 1, 0], strength: 60 })],
    });
    const driven = 6 * WEIGHT_OF_ONE * Math.tan(angle);
    expect(gravityOn(system).reserve).toBeCloseTo(60 / driven, 5);
  });
});

describe('a base on the table under a seating push along it', () => {
  // A newcomer of 5 kg stands on the base of 10 kg and is pushed home sideways at its foot.
  const base = (clamp: number, friction: number): System =>
    systemOf({
      bodies: [bodyAt([0, 0, 5], 10), bodyAt([0, 0, 60], 5)],
      bearings: [
        bearingOf(rectangle([-150, 150], [-100, 100], 0), { friction, preload: clamp }),
        bearingOf(rectangle([-50, 50], [-50, 50], 10), { a: 0, b: 1, friction: 0.9 }),
      ],
    });
  const seating = push([40, 0, 0], [0, 0, 10], 1);

  it('slides at mu N, and is carried once the clamp adds its force (Coulomb; derived here)', () => {
    const weight = 15 * WEIGHT_OF_ONE;
    const free = reserveOf(base(0, 0.2), seating);
    expect(free).toMatchObject({ stands: false, weakest: { kind: 'bearing', index: 0 } });
    expect(free.reserve).toBeCloseTo((0.2 * weight) / 40, 5);
    // With 60 N of clamping the base holds more than the push, and still less than the newcomer's own foot.
    const clamped = reserveOf(base(60, 0.2), seating);
    expect(clamped).toMatchObject({ stands: true, weakest: { kind: 'bearing', index: 0 } });
    expect(clamped.reserve).toBeCloseTo((0.2 * (weight + 60)) / 40, 5);
  });

  it('slides between the directions of the octagon at cos 22.5 degrees of that', () => {
    const angle = Math.PI / 8;
    const oblique = push([40 * Math.cos(angle), 40 * Math.sin(angle), 0], [0, 0, 10], 1);
    const found = reserveOf(base(0, 0.2), oblique).reserve;
    expect(found).toBeCloseTo(((0.2 * 15 * WEIGHT_OF_ONE) / 40) * Math.cos(angle), 5);
  });
});

describe('a plate under a tacked flange (check-values section 10: no invented forces)', () => {
  const face = (x: number, facing: 1 | -1): Bearing =>
    bearingOf(
      [
        [x, -50, 0],
        [x, 50, 0],
        [x, 50, 80],
        [x, -50, 80],
      ],
      { normal: [facing, 0, 0], friction: 0.3 },
    );
  const flange = (more: Partial<System>): System =>
    systemOf({
      bodies: [bodyAt([0, 0, 40], 0.97), bodyAt([0, 0, 90], 6)],
      bearings: [bearingOf(rectangle([-10, 10], [-50, 50], 80), { a: 0, b: 1, friction: 0.3 })],
      links: [linkAt([0, 60, 85], { b: 1, strength: 9000 }), linkAt([0, -60, 85], { b: 1, strength: 9000 })],
      ...more,
    });

  it('falls with nothing under it, though tacks could press the flange on it between two cheeks', () => {
    const { bearings } = flange({});
    const jammed = flange({ bearings: [...bearings, face(-10, 1), face(10, -1)] });
    expect(gravityOn(flange({}))).toMatchObject({ stands: false, reserve: 0 });
    expect(gravityOn(jammed)).toMatchObject({ stands: false, reserve: 0 });
  });

  it('stands on the table, but the flange lends it no friction against a push', () => {
    const standing = flange({
      bearings: [bearingOf(rectangle([-10, 10], [-50, 50], 0), { friction: 0.3 }), ...flange({}).bearings],
    });
    expect(gravityOn(standing).stands).toBe(true);
    // All the friction that gravity alone gives the plate is that of its own weight on the table.
    const found = reserveOf(standing, push([0, 10, 0], [0, 0, 0])).reserve;
    expect(found).toBeCloseTo((0.3 * 0.97 * WEIGHT_OF_ONE) / 10, 5);
  });
});

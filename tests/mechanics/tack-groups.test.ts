import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { cross, type Vec3 } from '../../src/geometry/vector.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import type { Disturbance, Link, System } from '../../src/mechanics/system.js';
import { WEIGHT_OF_ONE, bodyAt, linkAt, push, systemOf } from './scenes.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** Weightless, so that only the disturbance is judged. */
const groupOf = (links: readonly Link[]): System => systemOf({ bodies: [bodyAt([0, 0, 0], 0)], links });
const reserveOf = (links: readonly Link[], load: Disturbance): number =>
  judge(programs, groupOf(links), [load], { cold: true }).disturbances[0]!.reserve;

/** A couple of the given size, N mm, about an axis. */
const couple = (axis: Vec3, moment: number): Disturbance => {
  const arm: Vec3 = axis[0] === 0 ? [0.5, 0, 0] : [0, 0.5, 0];
  const force = cross(axis, arm).map((value) => 2 * moment * value) as unknown as Vec3;
  const back = force.map((value) => -value) as unknown as Vec3;
  const away = arm.map((value) => -value) as unknown as Vec3;
  return {
    name: 'couple',
    forces: [
      { body: 0, force, at: arm },
      { body: 0, force: back, at: away },
    ],
  };
};

/** Number of independent rows of a matrix: elimination with the greatest pivot of all. */
function rank(matrix: readonly (readonly number[])[]): number {
  const rows = matrix.map((row) => [...row]);
  let found = 0;
  for (;;) {
    let [best, at, column] = [1e-9, -1, -1];
    rows.slice(found).forEach((row, i) =>
      row.forEach((value, j) => {
        if (Math.abs(value) > best) [best, at, column] = [Math.abs(value), found + i, j];
      }),
    );
    if (at < 0) return found;
    [rows[found], rows[at]] = [rows[at]!, rows[found]!];
    const pivot = rows[found]!;
    for (const row of rows.slice(found + 1)) {
      const share = row[column]! / pivot[column]!;
      pivot.forEach((value, j) => (row[j]! -= share * value));
    }
    found += 1;
  }
}

/** Force and moment about the origin in N and N dm, so that both are of one size. */
const wrenchOf = (force: Vec3, at: Vec3): number[] => [
  ...force,
  ...cross(at, force).map((value) => value / 100),
];

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** The wrenches that ideal hinge points at a quarter of each tack's length can give: the equilibrium matrix. */
const matrixOf = (links: readonly Link[]): number[][] =>
  links.flatMap(({ at, along, length }) =>
    [-1, 1].flatMap((side) => {
      const point = at.map((value, i) => value + (side * along[i]! * length) / 4) as unknown as Vec3;
      return AXES.map((axis) => wrenchOf(axis, point));
    }),
  );

const whole = (min: number, max: number) => fc.integer({ min, max });
const anyLink = fc
  .record({ x: whole(-4, 4), y: whole(-1, 1), z: whole(-1, 1), axis: whole(0, 2) })
  .map(({ x, y, z, axis }) => linkAt([25 * x, 25 * y, 25 * z], { along: AXES[axis]!, strength: 1000 }));
const anyLoad = fc
  .record({ x: whole(-3, 3), y: whole(-3, 3), z: whole(-3, 3), force: whole(0, 2), at: whole(-2, 2) })
  .map(({ x, y, z, force, at }) => push(AXES[force]!, [25 * x, 25 * y * at, 25 * z]));

describe('the rank of tacks (check-values section 10: 2 or 3 points in line 5, one off the line 6)', () => {
  it('is five on one line, whatever their number, and six with one that leaves it', () => {
    const inLine = [-100, 0, 150].map((x) => linkAt([x, 0, 0]));
    expect(rank(matrixOf(inLine.slice(0, 1)))).toBe(5);
    expect(rank(matrixOf(inLine))).toBe(5);
    expect(rank(matrixOf([...inLine, linkAt([0, 10, 0])]))).toBe(6);
    expect(rank(matrixOf([...inLine, linkAt([0, 0, 0], { along: [0, 1, 0] })]))).toBe(6);
    expect(rank(matrixOf(inLine).slice(0, 3))).toBe(3);
  });

  it('decides whether a small load is carried: what the matrix can balance, and nothing else', () => {
    const seen = { five: 0, six: 0, carried: 0, not: 0 };
    fc.assert(
      fc.property(fc.array(anyLink, { minLength: 1, maxLength: 3 }), anyLoad, (links, load) => {
        const matrix = matrixOf(links);
        const { force, at } = load.forces[0]!;
        const full = rank(matrix);
        const carried = rank([...matrix, wrenchOf(force, at)]) === full;
        seen[full === 6 ? 'six' : 'five'] += 1;
        seen[carried ? 'carried' : 'not'] += 1;
        // 1 N at most 150 mm away, against 1000 N a tack: ten times it where it is carried at all.
        expect(reserveOf(links, load)).toBe(carried ? 10 : 0);
      }),
      { numRuns: 300, seed: 41 },
    );
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(40);
  });
});

describe('tacks on lines against published weld groups', () => {
  /** A weld of length d along y at x, as tacks end to end; strength q, N/mm. */
  const line = (x: number, d: number, q: number, tacks = 10): Link[] =>
    Array.from({ length: tacks }, (_, i) =>
      linkAt([x, ((i + 0.5) / tacks - 0.5) * d, 0], {
        ...{ along: [0, 1, 0], length: d / tacks, strength: (q * d) / tacks },
      }),
    );

  it('have no inertia about their own line: a couple about it turns them freely (weld as a line: zero)', () => {
    const single = line(0, 200, 700);
    expect(reserveOf(single, couple([0, 1, 0], 1))).toBe(0);
    // q d^2 / 4 about either other axis, the plastic value; elastic d^3 / 12 over d / 2 would give q d^2 / 6.
    for (const axis of [AXES[0]!, AXES[2]!])
      expect(reserveOf(single, couple(axis, 2e6))).toBeCloseTo((700 * 200 ** 2) / 4 / 2e6, 5);
  });

  // Weld as a line, J = d (3 b^2 + d^2) / 6 for two lines of length d, b apart (check-values section 2: Blodgett; Shigley).
  const [d, b] = [200, 100];
  const inertia = (d * (3 * b ** 2 + d ** 2)) / 6;
  const two = (q: number): Link[] => [...line(-b / 2, d, q), ...line(b / 2, d, q)];

  it('two lines have the published J of 2.333e6 mm3, by their points', () => {
    expect(inertia).toBeCloseTo(2.333e6, -3);
    const points = two(1).flatMap(({ at, length }) =>
      [-1, 1].map((side) => (length / 2) * (at[0] ** 2 + (at[1] + (side * length) / 4) ** 2)),
    );
    expect(points.reduce((sum, value) => sum + value, 0) / inertia).toBeCloseTo(1, 2);
  });

  it('two lines carry the plastic torque, somewhat more than the elastic one of the published J', () => {
    const torque = reserveOf(two(700), couple(AXES[2]!, 5e6)) * 5e6;
    // At each point the octahedron gives q max(|x|, |y|); over both lines q (d^2 + b^2) / 2.
    expect(torque).toBeCloseTo((700 * (d ** 2 + b ** 2)) / 2, -2);
    const elastic = (700 * inertia) / Math.hypot(d / 2, b / 2);
    expect(torque / elastic).toBeGreaterThan(1);
    // A single line has 1.5, the ratio of d^2 / 4 to d^2 / 6.
    expect(torque / elastic).toBeLessThan(1.5);
  });

  // Published: d = 200, b = 100, P = 50 kN at e = 150 gives f_v 125, f_tx 321.43, f_ty 160.71, together 430.06 N/mm.
  it('two lines carry the published eccentric load no worse than its elastic forces, which the tacks could give', () => {
    const [direct, across, upright] = [
      50_000 / (2 * d),
      (50_000 * 150 * d) / 2 / inertia,
      (50_000 * 150 * b) / 2 / inertia,
    ];
    expect([direct, across, upright].map((value) => Math.round(value * 100) / 100)).toEqual([
      125, 321.43, 160.71,
    ]);
    expect(Math.hypot(across, direct + upright)).toBeCloseTo(430.06, 2);
    const carried = reserveOf(two(700), push([0, -50_000, 0], [150, 0, 0])) / 700;
    // The octahedron adds components: the elastic peak needs q = f_tx + f_ty + f_v, a perfectly plastic group less.
    expect(carried).toBeGreaterThan(1 / (across + direct + upright));
    expect(carried).toBeLessThan(1.5 / Math.hypot(across, direct + upright));
  });
});

describe('the cantilevered plate on four tacks (check-values section 10: 28.88 N m, 4000 mm3, 36.11 N/mm)', () => {
  it('loads each of them by the couple of its lines', () => {
    const links = [-5, 5].flatMap((z) => [linkAt([-100, 0, z]), linkAt([100, 0, z])]);
    const system = systemOf({ bodies: [bodyAt([0, 250, 0], 11.775)], links });
    const { forces } = judge(programs, system, [], { cold: true, forces: true }).gravity;
    const along = forces!.links.map((halves) => halves.reduce((sum, force) => sum + force[1], 0));
    // The published figures take 9.81 m/s2.
    const moment = 11.775 * WEIGHT_OF_ONE * 250;
    expect(moment / 1000).toBeCloseTo(28.88, 1);
    // Upper line pulled, lower line pressed, by M / 10 mm each: 36.1 N for each of its 80 mm.
    expect((along[2]! + along[3]!) / 80).toBeCloseTo(-(along[0]! + along[1]!) / 80, 6);
    expect(Math.abs(along[0]! + along[1]!) / 80).toBeCloseTo((moment * 5) / 4000, 6);
    expect((moment * 5) / 4000).toBeCloseTo(36.11, 1);
  });
});

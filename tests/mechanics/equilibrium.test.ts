import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import type { Disturbance, System } from '../../src/mechanics/system.js';
import { GROUND } from '../../src/mechanics/system.js';
import {
  WEIGHT_OF_ONE,
  bearingOf,
  bodyAt,
  linkAt,
  padAt,
  push,
  rectangle,
  systemOf,
  tilted,
  twist,
} from './scenes.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const gravityOn = (system: System) => judge(programs, system, [], { cold: true }).gravity;
const reserveOf = (system: System, disturbance: Disturbance) =>
  judge(programs, system, [disturbance], { cold: true }).disturbances[0]!;

const block = (friction: number, degrees: number, height = 10): System =>
  systemOf({
    bodies: [bodyAt([0, 0, height / 2])],
    bearings: [bearingOf(rectangle([-50, 50], [-50, 50], 0), { friction })],
    gravity: tilted(degrees),
  });

describe('closed answers of statics (check-values section 10, recomputed)', () => {
  it('slides when mu is below tan theta: 21.801 degrees at 0.4', () => {
    expect(gravityOn(block(0.4, 21.8))).toMatchObject({ stands: true, reserve: 10 });
    expect(gravityOn(block(0.4, 21.803))).toMatchObject({
      stands: false,
      reserve: 0,
      weakest: { kind: 'bearing', index: 0 },
    });
  });

  it('tips when tan theta is above b/h: 26.565 degrees at 0.5', () => {
    expect(gravityOn(block(0.9, 26.564, 200)).stands).toBe(true);
    expect(gravityOn(block(0.9, 26.566, 200))).toMatchObject({
      stands: false,
      weakest: { kind: 'bearing', index: 0 },
    });
  });

  it.each([
    [60, 0.2887],
    [45, 0.5],
  ])('ladder at %d degrees on a smooth wall needs mu = 1/(2 tan theta) = %f', (degrees, needed) => {
    const angle = (degrees * Math.PI) / 180;
    const [x, z] = [1000 * Math.cos(angle), 1000 * Math.sin(angle)];
    const ladder = (friction: number): System =>
      systemOf({
        bodies: [bodyAt([x / 2, 0, z / 2])],
        bearings: [
          bearingOf(
            [
              [0, -100, 0],
              [0, 100, 0],
            ],
            { friction },
          ),
          bearingOf(
            [
              [x, -100, z],
              [x, 100, z],
            ],
            { friction: 0, normal: [-1, 0, 0] },
          ),
        ],
      });
    expect(gravityOn(ladder(needed + 1e-4)).stands).toBe(true);
    expect(gravityOn(ladder(needed - 1e-4)).stands).toBe(false);
  });

  it.each([
    [1, 0.5],
    [2, 0.75],
    [3, 11 / 12],
    [4, 25 / 24],
    [5, 137 / 120],
  ])('a stack of %d blocks overhangs by %f of a length', (count, overhang) => {
    // From the top down, block i reaches 1/(2i) beyond the one below it.
    const stack = (excess: number): System => {
      const ends = Array.from({ length: count }, (_, i) => {
        const below = Array.from({ length: count - i }, (_, k) => 1 / (2 * (i + k + 1)));
        return 100 * below.reduce((a, b) => a + b, 0) + (i === 0 ? excess : 0);
      });
      expect(ends[0]! - excess).toBeCloseTo(100 * overhang, 9);
      const height = (i: number): number => 10 * (count - 1 - i);
      return systemOf({
        bodies: ends.map((end, i) => bodyAt([end - 50, 0, height(i) + 5])),
        bearings: ends.map((end, i) => {
          const support = i + 1 < count ? ends[i + 1]! : 0;
          return bearingOf(rectangle([end - 100, support], [-20, 20], height(i)), {
            a: i + 1 < count ? i + 1 : GROUND,
            b: i,
          });
        }),
      });
    };
    expect(gravityOn(stack(-0.01)).stands).toBe(true);
    expect(gravityOn(stack(0.01)).stands).toBe(false);
  });
});

describe('an upright plate of 500 x 300 x 10 mm, 11.775 kg (check-values section 10, recomputed)', () => {
  const plate = bodyAt([0, 0, 150], 11.775);
  const foot = bearingOf(rectangle([-250, 250], [-5, 5], 0));
  const bothWays = [push([0, 1, 0], [0, 0, 300]), push([0, -1, 0], [0, 0, 300])];

  it('tips at 1.925 N at its top edge, the same to either side', () => {
    for (const load of bothWays)
      expect(reserveOf(systemOf({ bodies: [plate], bearings: [foot] }), load).reserve).toBeCloseTo(
        (11.775 * WEIGHT_OF_ONE * 5) / 300,
        5,
      );
  });

  it('tips under its own weight from 1.909 degrees', () => {
    const leaning = (degrees: number): System => {
      const { direction, acceleration } = tilted(degrees);
      return systemOf({
        bodies: [plate],
        bearings: [foot],
        gravity: { direction: [0, direction[0], direction[2]], acceleration },
      });
    };
    expect(gravityOn(leaning(1.909)).stands).toBe(true);
    expect(gravityOn(leaning(1.9095)).stands).toBe(false);
  });

  it('with tacks on one side has its hinge there: a push towards them is not held, one away from them is', () => {
    const tacks = [linkAt([-150, 5, 0]), linkAt([150, 5, 0])];
    const system = systemOf({ bodies: [plate], bearings: [foot], links: tacks });
    const hard = [push([0, 100, 0], [0, 0, 300]), push([0, -100, 0], [0, 0, 300])] as const;
    const towards = reserveOf(system, hard[0]);
    // Only the weight resists, about the tack line: 115.51 N x 5 mm / 300 mm.
    expect(towards.reserve).toBeCloseTo((11.775 * WEIGHT_OF_ONE * 5) / 300 / 100, 6);
    expect(towards.stands).toBe(false);
    expect(towards.weakest).toEqual({ kind: 'bearing', index: 0 });
    expect(reserveOf(system, hard[1]).reserve).toBe(10);
    const both = systemOf({
      bodies: [plate],
      bearings: [foot],
      links: [...tacks, linkAt([-150, -5, 0]), linkAt([150, -5, 0])],
    });
    for (const load of hard) expect(reserveOf(both, load).reserve).toBe(10);
  });
});

describe('tacks', () => {
  // The plate of section 10, cantilevered 500 mm: 28.88 N m on two lines 10 mm apart, two tacks of 40 mm a line.
  const cantilever = (strength: number, heights: readonly number[]): System =>
    systemOf({
      bodies: [bodyAt([0, 250, 0], 11.775)],
      links: heights.flatMap((z) => [linkAt([-100, 0, z], { strength }), linkAt([100, 0, z], { strength })]),
    });
  const strength = 727.5 * 40; // S235, a = 3.5, N

  it('carry the cantilevered plate by the couple of their lines, less what shear takes', () => {
    const weight = 11.775 * WEIGHT_OF_ONE;
    // Octahedron: pull and shear of a line add up. Both lines share the shear, so 2 (couple) + weight = 2 x 2 S.
    const factor = (4 * strength) / 4 / ((2 * weight * 250) / 10 + weight);
    const verdict = gravityOn(cantilever(strength / 4, [-5, 5]));
    expect(verdict.reserve).toBeCloseTo(factor, 5);
    expect(verdict.weakest?.kind).toBe('link');
    // Moment alone: use 36.11 / 727.5 = 0.0496 by the line inertia of 4000 mm3; shear adds 2 per cent here.
    expect(4 * factor).toBeGreaterThan(0.97 / 0.0496);
    expect(4 * factor).toBeLessThan(1 / 0.0496);
  });

  it('on one line only hold no moment about it', () => {
    expect(gravityOn(cantilever(strength, [5]))).toMatchObject({ stands: false, reserve: 0 });
  });

  it('on the tension face only, with bearing at the opposite edge, carry by a couple of 2.89 kN', () => {
    const system: System = {
      ...cantilever(strength / 4, [5]),
      bearings: [
        bearingOf(
          [
            [-150, 0, -5],
            [150, 0, -5],
          ],
          { normal: [0, 1, 0] },
        ),
      ],
    };
    const weight = 11.775 * WEIGHT_OF_ONE;
    expect((weight * 250) / 10).toBeCloseTo(2887, -1);
    expect(gravityOn(system).reserve).toBeCloseTo((2 * strength) / 4 / ((weight * 250) / 10 + weight), 5);
    const reversed = { ...system, gravity: { direction: [0, 0, 1] as const, acceleration: WEIGHT_OF_ONE } };
    expect(gravityOn(reversed)).toMatchObject({ stands: false, reserve: 0 });
  });

  it('have the plastic in-line capacity F L / 4', () => {
    const single = systemOf({
      bodies: [bodyAt([0, 0, 0], 0)],
      links: [linkAt([0, 0, 0], { strength: 1000 })],
    });
    expect(reserveOf(single, twist(5000)).reserve).toBeCloseTo((1000 * 40) / 4 / 5000, 6);
    expect(reserveOf(single, push([400, 0, 0], [0, 0, 0])).reserve).toBeCloseTo(2.5, 6);
  });
});

describe('no invented forces (check-values section 10; design section 6)', () => {
  const cheek = (x: number, facing: 1 | -1) =>
    bearingOf(
      [
        [x, -50, 0],
        [x, 50, 0],
        [x, 50, 100],
        [x, -50, 100],
      ],
      { normal: [facing, 0, 0], friction: 0.2 },
    );

  it('a web of 0.97 kg between two fixed cheeks falls', () => {
    const web = systemOf({ bodies: [bodyAt([0, 0, 50], 0.97)], bearings: [cheek(-5, 1), cheek(5, -1)] });
    expect(gravityOn(web)).toMatchObject({ stands: false, reserve: 0 });
    const clamped = { ...web, bearings: web.bearings.map((bearing) => ({ ...bearing, preload: 30 })) };
    // A declared squeeze of 30 N carries 2 x 0.2 x 30 N.
    expect(gravityOn(clamped).reserve).toBeCloseTo((2 * 0.2 * 30) / (0.97 * WEIGHT_OF_ONE), 6);
  });

  it('cheeks that gravity does not press give no friction against a push either', () => {
    const web = systemOf({
      bodies: [bodyAt([0, 0, 50], 0.97)],
      bearings: [bearingOf(rectangle([-5, 5], [-50, 50], 0), { friction: 0.2 }), cheek(-5, 1), cheek(5, -1)],
    });
    expect(reserveOf(web, push([0, 1, 0], [0, 0, 0])).reserve).toBeCloseTo(0.2 * 0.97 * WEIGHT_OF_ONE, 5);
  });

  // A strut leans at 5.7 degrees between the table and the underside of a flange; it would hold only by jamming.
  const strut = (flange: Partial<System>): System =>
    systemOf({
      bodies: [bodyAt([50, 0, 500], 5), bodyAt([100, 0, 1005], 10)],
      bearings: [
        bearingOf(
          [
            [0, -100, 0],
            [0, 100, 0],
          ],
          { friction: 0.3 },
        ),
        bearingOf(
          [
            [100, -100, 1000],
            [100, 100, 1000],
          ],
          { a: 0, b: 1, friction: 0.3 },
        ),
      ],
      ...flange,
    });

  it('a plate that would have to jam under a tacked flange falls', () => {
    const tacked = strut({
      links: [
        linkAt([100, 300, 1005], { b: 1 }),
        linkAt([100, -300, 1005], { b: 1 }),
        linkAt([100, 0, 1105], { b: 1 }),
      ],
    });
    expect(gravityOn(tacked).stands).toBe(false);
    const fixed = systemOf({
      bodies: [tacked.bodies[0]!],
      bearings: [tacked.bearings[0]!, { ...tacked.bearings[1]!, a: 0, b: GROUND }],
    });
    expect(gravityOn(fixed).stands).toBe(false);
  });

  it('but a flange that needs the body below presses on it, even when tacks help', () => {
    // A wedge on a smooth floor carries one end of a beam on a slope of 10 degrees, which needs friction of tan 10; the
    // other end hangs on a single tack, a hinge along y.
    const slope = Math.tan((10 * Math.PI) / 180);
    const normal = [-Math.sin(Math.atan(slope)), 0, Math.cos(Math.atan(slope))] as const;
    const wedge = systemOf({
      bodies: [bodyAt([0, 0, 10], 2), bodyAt([500, 0, 60], 10)],
      bearings: [
        bearingOf(rectangle([-60, 60], [-60, 60], 0), { friction: 0 }),
        bearingOf(
          [
            [0, -40, 40],
            [0, 40, 40],
          ],
          { a: 0, b: 1, normal, friction: 0.4 },
        ),
      ],
      links: [linkAt([1000, 0, 60], { b: 1, along: [0, 1, 0], strength: 5000 })],
    });
    expect(gravityOn(wedge).stands).toBe(true);
  });
});

describe('pads and holds', () => {
  const free = { force: Infinity, moment: Infinity, at: [0, 0, 0] as const };
  const held = (pad = padAt([0, 0, 10]), mass = 0, hold: System['holds'][number] = free): System =>
    systemOf({ bodies: [bodyAt([0, 0, 5], mass)], pads: [pad], holds: [hold] });

  it('spin at 2/3 mu P R, slide at mu P within the octagon factor, part at P', () => {
    expect(reserveOf(held(), twist(1000)).reserve).toBeCloseTo((2 / 3) * 0.2 * 500 * 50 * 1e-3, 6);
    expect(reserveOf(held(), push([20, 0, 0], [0, 0, 10])).reserve).toBeCloseTo(5, 6);
    const oblique = [20 * Math.cos(Math.PI / 8), 20 * Math.sin(Math.PI / 8), 0] as const;
    expect(reserveOf(held(), push(oblique, [0, 0, 10])).reserve).toBeCloseTo(5 * Math.cos(Math.PI / 8), 6);
    const away = reserveOf(held(), push([0, 0, -100], [0, 0, 10]));
    expect(away.reserve).toBeCloseTo(5, 6);
    expect(away.weakest).toEqual({ kind: 'pad', index: 0 });
  });

  it('hang 51 kg on 500 N, 42.3 kg when the robot lifts at 2 m/s2 (check-values section 6)', () => {
    expect(gravityOn(held(undefined, 50.9)).stands).toBe(true);
    expect(gravityOn(held(undefined, 51.1))).toMatchObject({
      stands: false,
      weakest: { kind: 'pad', index: 0 },
    });
    expect(gravityOn(held(undefined, 102)).reserve).toBeCloseTo(500 / (102 * WEIGHT_OF_ONE), 5);
    const lifting = (mass: number) => push([0, 0, -2 * mass], [0, 0, 5]);
    expect(reserveOf(held(undefined, 42.3), lifting(42.3)).stands).toBe(true);
    expect(reserveOf(held(undefined, 42.4), lifting(42.4)).stands).toBe(false);
  });

  it('stop at the limits of the arm, force and moment', () => {
    const weak = held(undefined, 10, { force: 150, moment: Infinity, at: [0, 0, 0] });
    expect(gravityOn(weak)).toMatchObject({ stands: true, weakest: { kind: 'hold', index: 0 } });
    expect(gravityOn(weak).reserve).toBeCloseTo(150 / (10 * WEIGHT_OF_ONE), 6);
    const far = held(undefined, 10, { force: Infinity, moment: 40_000, at: [-300, 0, 0] });
    expect(gravityOn(far).reserve).toBeCloseTo(40_000 / (10 * WEIGHT_OF_ONE * 300), 6);
  });

  it('carry a part at their side by friction', () => {
    const side = held(padAt([0, 0, 5], { normal: [1, 0, 0] }), 5);
    expect(gravityOn(side).reserve).toBeCloseTo((0.2 * 500) / (5 * WEIGHT_OF_ONE), 6);
  });
});

describe('odd systems', () => {
  it('nothing at all stands; a body that nothing touches falls, and nothing could help it', () => {
    expect(gravityOn(systemOf({}))).toMatchObject({ stands: true, reserve: 10 });
    const floating = judge(programs, systemOf({ bodies: [bodyAt([0, 0, 0])] }), [push([1, 0, 0], [0, 0, 0])]);
    expect(floating.gravity).toMatchObject({
      stands: false,
      reserve: 0,
      weakest: undefined,
      failure: undefined,
    });
    expect(floating.disturbances[0]).toMatchObject({ name: 'push', stands: false, reserve: 0 });
  });

  it('a point is three constraints, a line five, and a point off the line makes six (ranks, section 10)', () => {
    const weightless = (points: readonly (readonly [number, number, number])[]): System =>
      systemOf({
        bodies: [bodyAt([0, 0, 0], 0)],
        bearings: points.flatMap((point) =>
          (
            [
              [1, 0, 0],
              [-1, 0, 0],
              [0, 1, 0],
              [0, -1, 0],
              [0, 0, 1],
              [0, 0, -1],
            ] as const
          ).map((normal) => bearingOf([point], { normal, friction: 0 })),
        ),
      });
    const turns: Disturbance[] = (
      [
        [
          [0, 0, 1],
          [0, 1, 0],
        ],
        [
          [0, 0, 1],
          [1, 0, 0],
        ],
        [
          [0, 1, 0],
          [1, 0, 0],
        ],
      ] as const
    ).map(([force, arm], i) => ({
      name: `turn ${i}`,
      forces: [
        { body: 0, force, at: arm },
        { body: 0, force: [-force[0], -force[1], -force[2]], at: [-arm[0], -arm[1], -arm[2]] },
      ],
    }));
    const held = (points: readonly (readonly [number, number, number])[]): number =>
      3 + judge(programs, weightless(points), turns).disturbances.filter(({ stands }) => stands).length;
    expect(held([[0, 0, 0]])).toBe(3);
    expect(
      held([
        [-20, 0, 0],
        [0, 0, 0],
        [20, 0, 0],
      ]),
    ).toBe(5);
    expect(
      held([
        [-20, 0, 0],
        [0, 10, 0],
        [20, 0, 0],
      ]),
    ).toBe(6);
  });
});

import { describe, expect, it } from 'vitest';
import { cross, dot, unit, type Vec3 } from '../../src/geometry/vector.js';
import { Distortion, tackSprings, type TackMetal } from '../../src/mechanics/distortion.js';
import { GROUND } from '../../src/mechanics/system.js';

// A plate on edge (body 0) on the ground, its centre 100 mm above, 10 mm thick: root lines along x at y = 5 and y = -5.
const ANGLE = 0.01;
const WEB: Vec3 = [0, 0, 100];
const tack = (side: 1 | -1, more: Partial<TackMetal> = {}): TackMetal => ({
  ...{ a: GROUND, b: 0, at: [0, 5 * side, 0], along: [1, 0, 0] },
  open: unit([0, side, 1]),
  ...{ length: 40, throat: 3.5, modulus: 210_000, yield: 235, pull: [0, 0, -1] },
  shrinkage: { transverse: 0, longitudinal: 0, angular: ANGLE },
  ...more,
});
const after = (...steps: readonly (readonly TackMetal[])[]): Distortion => {
  const system = new Distortion([WEB]);
  for (const step of steps) {
    system.add(step.flatMap(tackSprings));
    system.settle();
  }
  return system;
};

describe('one tack', () => {
  it.each([1, -1] as const)('turns a free plate by exactly the free angle to its own side (%s)', (side) => {
    const { turn } = after([tack(side)]).motion(0);
    // A turn about -x leans the top of the plate toward +y.
    expect(turn.map((value) => value + 0)).toEqual([
      expect.closeTo(-side * ANGLE, 9),
      expect.closeTo(0, 9),
      expect.closeTo(0, 9),
    ]);
    expect(after([tack(side)]).displacement(0, [0, 0, 200])[1]).toBeCloseTo(side * 200 * ANGLE, 6);
  });

  it('turns it whichever way the root line is told', () => {
    expect(after([tack(1, { along: [-1, 0, 0] })]).motion(0).turn[0]).toBeCloseTo(-ANGLE, 9);
  });

  it('leaves the root in place but for the shrinkage across, along the pull', () => {
    expect(
      after([tack(1)])
        .displacement(0, [0, 5, 0])
        .map(Math.abs)
        .every((value) => value < 1e-9),
    ).toBe(true);
    const drawn = after([tack(1, { shrinkage: { transverse: 0.2, longitudinal: 0, angular: ANGLE } })]);
    expect(drawn.displacement(0, [0, 5, 0])[2]).toBeCloseTo(-0.2, 9);
    expect(drawn.motion(0).turn[0]).toBeCloseTo(-ANGLE, 9);
  });

  it('of a butt weld lifts the far edge toward the side of the weld', () => {
    const system = new Distortion([[0, 100, 0]]);
    system.add(tackSprings(tack(1, { at: [0, 0, 0], open: [0, 0, 1], pull: [0, -1, 0] })));
    system.settle();
    expect(system.displacement(0, [0, 200, 0])[2]).toBeCloseTo(200 * ANGLE, 6);
  });

  it('moves no rigid part by what it shrinks along its line', () => {
    const { move } = after([tack(1, { shrinkage: { transverse: 0, longitudinal: 0.5, angular: 0 } })]).motion(
      0,
    );
    expect(move.every((value) => Math.abs(value) < 1e-12)).toBe(true);
  });

  it('between two free plates turns them against each other, and the pair stays where it was', () => {
    const system = new Distortion([[0, 0, -100], WEB]);
    system.add(tackSprings(tack(1, { a: 0, b: 1 })));
    system.settle();
    const [a, b] = [system.motion(0), system.motion(1)];
    expect(b.turn[0] - a.turn[0]).toBeCloseTo(-ANGLE, 9);
    expect(a.move[1] + b.move[1]).toBeCloseTo(0, 6);
  });

  it('cannot be told a side by a pull in the plane of its throat', () => {
    expect(() => tackSprings(tack(1, { pull: unit([0, 1, 1]) }))).toThrow(RangeError);
  });
});

describe('two opposed tacks', () => {
  const both = { shrinkage: { transverse: 0.05, longitudinal: 0, angular: ANGLE } };

  it('laid at once cancel: the plate is drawn down and neither leans nor shifts', () => {
    const { move, turn } = after([tack(1, both), tack(-1, both)]).motion(0);
    expect([move[0], move[1], ...turn].every((value) => Math.abs(value) < 1e-9)).toBe(true);
    expect(move[2]).toBeLessThan(0);
  });

  it('in sequence, the elastic rest is half: two tacks in one place, of opposite sides', () => {
    // Equally stiff about the same line: born at the free angle f, the second wants 0, the first f: they meet at f / 2.
    const strong = { yield: Infinity, at: [0, 0, 0] as Vec3, open: [0, 0, 1] as Vec3 };
    const [left, right] = [tack(1, { ...strong, pull: [0, -1, 0] }), tack(1, { ...strong, pull: [0, 1, 0] })];
    const first = after([left]).motion(0).turn[0];
    expect(Math.abs(first)).toBeCloseTo(ANGLE, 9);
    expect(after([left], [right]).motion(0).turn[0]).toBeCloseTo(first / 2, 9);
  });

  it('in sequence, the plate keeps leaning to the side welded first', () => {
    for (const side of [1, -1] as const) {
      const lean = after([tack(side)], [tack(-side as 1 | -1)]).displacement(0, [0, 0, 200])[1] * side;
      expect(lean).toBeGreaterThan(0.2 * 200 * ANGLE);
      expect(lean).toBeLessThan(200 * ANGLE);
    }
  });
});

describe('what a tack carries', () => {
  /** Turn of a body on one 40 mm tack under a moment about an axis by two forces, each a spring that cannot get what it wants. */
  const turned = (moment: number, axis: Vec3, across: Vec3): number => {
    const metal = tack(1, {
      open: [0, 0, 1],
      pull: [0, -1, 0],
      at: [0, 0, 0],
      shrinkage: { transverse: 0, longitudinal: 0, angular: 0 },
    });
    const middle: Vec3 = [0, 0, metal.throat / 2];
    const system = new Distortion([middle]);
    system.add(tackSprings(metal));
    const push = cross(axis, across);
    const arm = 1000;
    system.add(
      [1, -1].map((sign) => ({
        ...{ a: GROUND, b: 0, stiffness: 1e3, most: moment / (2 * arm) },
        at: [0, 1, 2].map((i) => middle[i]! + sign * arm * across[i]!) as unknown as Vec3,
        shrink: push.map((value) => 100 * sign * value) as unknown as Vec3,
      })),
    );
    system.settle();
    return dot(system.motion(0).turn, axis);
  };

  // Check-values section 10, recomputed: plastic in-line capacity F L / 4 of two forces of half the strength at +-L/4.
  it('is F L / 4 as a moment in its line', () => {
    const capacity = (235 * 40 * 3.5 * 40) / 4;
    expect(turned(0.99 * capacity, [0, 0, 1], [1, 0, 0])).toBeLessThan(1e-3);
    expect(turned(1.01 * capacity, [0, 0, 1], [1, 0, 0])).toBeGreaterThan(0.05);
  });

  // Check-values section 10: own-axis plastic moment of a 40 mm tack with throat 3.5 at 235 MPa, about 29 N m (28.8).
  it('is 28.8 N m about its own line', () => {
    const capacity = 28_787.5;
    expect((235 * 40 * 3.5 ** 2) / 4).toBe(capacity);
    expect(turned(0.99 * capacity, [1, 0, 0], [0, 1, 0])).toBeLessThan(0.01);
    expect(turned(1.01 * capacity, [1, 0, 0], [0, 1, 0])).toBeGreaterThan(0.05);
  });

  it('is yield strength x length x throat as a force', () => {
    const metal = tack(1);
    expect(tackSprings(metal).reduce((sum, { most }) => sum + most, 0)).toBeCloseTo(235 * 40 * 3.5, 9);
  });
});

describe('a long plate with two tacks a side', () => {
  /** Lean of the plate, mm at its top, after tacks laid at the ends (-1 and 1) of the sides (-1 and 1), its foot on a table. */
  const lean = (order: readonly (readonly [end: number, side: 1 | -1])[]): number => {
    const system = new Distortion([[0, 0, 75]]);
    system.addStops(
      [-150, 150].flatMap((x) =>
        [-5, 5].map((y) => ({
          ...{ a: GROUND, b: 0, at: [x, y, 0] as const, normal: [0, 0, 1] as const },
          ...{ stiffness: 1e6, gap: 0 },
        })),
      ),
    );
    for (const [end, side] of order) {
      system.add(tackSprings(tack(side, { at: [120 * end, 5 * side, 0], length: 30, throat: 2.8 })));
      system.settle();
    }
    return Math.abs(system.displacement(0, [0, 0, 150])[1]);
  };
  const near = (side: 1 | -1) => [-1, side] as const;
  const far = (side: 1 | -1) => [1, side] as const;

  it('leans less when sides alternate than when one side goes first', () => {
    const oneSideFirst = lean([near(1), far(1), near(-1), far(-1)]);
    for (const alternate of [
      [near(1), near(-1), far(1), far(-1)],
      [near(1), far(-1), far(1), near(-1)],
      [near(1), far(-1), near(-1), far(1)],
    ] as const)
      expect(lean(alternate)).toBeLessThan(0.8 * oneSideFirst);
  });

  it('leans the other way, by as much, when all is mirrored', () => {
    expect(lean([near(1), far(-1), far(1)])).toBeCloseTo(lean([near(-1), far(1), far(-1)]), 9);
  });
});

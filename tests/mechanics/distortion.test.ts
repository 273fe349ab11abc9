import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/geometry/vector.js';
import { Distortion, type Spring } from '../../src/mechanics/distortion.js';
import { GROUND } from '../../src/mechanics/system.js';

// Closed answers: springs of stiffness k and greatest force F in one line, worked out by hand beside each check.
const AT: Vec3 = [0, 0, 0];
const TACK = 1e6;
const HOLD = 2000;

const spring = (stiffness: number, shrink: number, most = Infinity, at: Vec3 = AT): Spring => ({
  ...{ a: GROUND, b: 0, at, stiffness, most },
  ...(shrink === 0 ? {} : { shrink: [shrink, 0, 0] as const }),
});
const place = (system: Distortion): number => system.motion(0).move[0];

describe('springs between rigid bodies', () => {
  it('stay where they are with nothing to do', () => {
    const system = new Distortion([AT, [100, 0, 0]]);
    expect(system.settle()).toEqual({ energy: 0, steps: 1 });
    system.add([spring(TACK, 0)]);
    system.settle();
    expect(system.motion(0)).toEqual({ move: [0, 0, 0], turn: [0, 0, 0] });
  });

  it('a free body follows a shrinkage wholly, and nothing is stored', () => {
    const system = new Distortion([AT]);
    const handle = system.add([spring(TACK, 0.3, 100)]);
    expect(system.settle().energy).toBeLessThan(1e-12);
    expect(place(system)).toBeCloseTo(0.3, 9);
    expect(system.force(handle)[0]![0]).toBeCloseTo(0, 4);
  });

  it('two opposed springs at once cancel; in sequence half of the first is left', () => {
    const together = new Distortion([AT]);
    together.add([spring(TACK, 0.3), spring(TACK, -0.3)]);
    together.settle();
    expect(place(together)).toBeCloseTo(0, 9);
    const oneByOne = new Distortion([AT]);
    oneByOne.add([spring(TACK, 0.3)]);
    oneByOne.settle();
    oneByOne.add([spring(TACK, -0.3)]);
    oneByOne.settle();
    // The first wants x = s, the second, born there, x = 0: equally stiff, they meet at s / 2.
    expect(place(oneByOne)).toBeCloseTo(0.15, 9);
  });

  it('in sequence with yield only the elastic part of the first is taken back', () => {
    const system = new Distortion([AT]);
    system.add([spring(TACK, 0.3, 8000)]);
    system.settle();
    const second = system.add([spring(TACK, -0.3, 8000)]);
    system.settle();
    // The second pulls with F at most, which stretches the first by F / k = 0.008 mm, and then yields.
    expect(place(system)).toBeCloseTo(0.3 - 0.008, 7);
    expect(system.force(second)[0]![0]).toBeCloseTo(-8000, 1);
  });

  it('an elastic hold delays everything to the let-go', () => {
    const system = new Distortion([AT]);
    const hold = system.add([spring(HOLD, 0)]);
    const tack = system.add([spring(TACK, 0.3)]);
    system.settle();
    // Two springs in a row: x = s k / (k + h).
    expect(place(system)).toBeCloseTo((0.3 * TACK) / (TACK + HOLD), 9);
    expect(system.force(hold)[0]![0]).toBeCloseTo(-place(system) * HOLD, 6);
    expect(system.force(tack)[0]![0]).toBeCloseTo(place(system) * HOLD, 5);
    system.remove(hold);
    system.settle();
    expect(place(system)).toBeCloseTo(0.3, 9);
  });

  it('a tack that yields against the hold keeps part of it', () => {
    const system = new Distortion([AT]);
    const hold = system.add([spring(HOLD, 0)]);
    system.add([spring(TACK, 0.3, 100)]);
    system.settle();
    // The tack gives F at most: x = F / h. Let go of, it unloads along its stiffness: x + F / k.
    expect(place(system)).toBeCloseTo(100 / HOLD, 9);
    system.remove(hold);
    system.settle();
    expect(place(system)).toBeCloseTo(100 / HOLD + 100 / TACK, 9);
  });

  it('a hold that slips lets the rest through and stays where it slipped to', () => {
    const system = new Distortion([AT]);
    const hold = system.add([spring(HOLD, 0, 60)]);
    system.add([spring(TACK, 0.3)]);
    system.settle();
    expect(place(system)).toBeCloseTo(0.3 - 60 / TACK, 9);
    expect(system.force(hold)[0]![0]).toBeCloseTo(-60, 6);
    system.remove(hold);
    system.settle();
    expect(place(system)).toBeCloseTo(0.3, 9);
  });

  it('a spring carries forces up to its limit in any direction, not by component', () => {
    const system = new Distortion([AT]);
    const ground = { a: GROUND, b: 0, at: AT, stiffness: HOLD };
    const hold = system.add([{ ...ground, most: 50 }]);
    // Drawn along (3, 4) with far more than the hold has, by something as good as rigid.
    system.add([{ ...ground, stiffness: TACK, most: Infinity, shrink: [3, 4, 0] }]);
    system.settle();
    const [x, y] = system.force(hold)[0]!;
    expect([x, y].map((value) => Math.round(value * 1e3) / 1e3)).toEqual([-30, -40]);
  });

  it('a body that nothing holds any more stays where it is', () => {
    const system = new Distortion([AT, [500, 0, 0]]);
    const hold = system.add([spring(HOLD, 1)]);
    system.settle();
    system.remove(hold);
    system.settle();
    expect(place(system)).toBeCloseTo(1, 9);
    system.place(0);
    expect(place(system)).toBe(0);
  });

  it('a spring that carries nothing moves nothing', () => {
    const system = new Distortion([AT]);
    system.add([spring(HOLD, 0), spring(TACK, 0.3, 0)]);
    system.settle();
    expect(place(system)).toBeCloseTo(0, 9);
  });
});

describe('stops', () => {
  const stop = { a: GROUND, b: 0, at: AT, normal: [1, 0, 0] as Vec3, stiffness: 1e6, gap: 0.1 };

  it('push once the gap is closed', () => {
    const system = new Distortion([AT]);
    system.addStops([stop]);
    const hold = system.add([spring(HOLD, -1)]);
    system.settle();
    // h (1 + x) = p (0.1 + x) with x below -0.1, both negative directions: x = -(h + p / 10) / (h + p).
    const x = -(HOLD + 1e6 * 0.1) / (HOLD + 1e6);
    expect(place(system)).toBeCloseTo(x, 9);
    expect(system.force(hold)[0]![0]).toBeCloseTo(-HOLD * (1 + x), 5);
  });

  it('never pull', () => {
    const system = new Distortion([AT]);
    system.addStops([stop, { ...stop, normal: [0, 1, 0], gap: 0 }]);
    system.add([{ ...spring(HOLD, 0), shrink: [1, 1, 0] }]);
    system.settle();
    expect(system.motion(0).move[0]).toBeCloseTo(1, 9);
    expect(system.motion(0).move[1]).toBeCloseTo(1, 9);
  });

  it('go as springs do', () => {
    const system = new Distortion([AT]);
    const stops = system.addStops([stop]);
    system.add([spring(HOLD, -1)]);
    system.settle();
    system.remove(stops);
    system.settle();
    expect(place(system)).toBeCloseTo(-1, 9);
  });

  it('share a weight by its lever arms, and a body tips about the last of them', () => {
    const weighed = (x: number): Distortion => {
      const system = new Distortion([[0, 0, 50]]);
      const up = { a: GROUND, b: 0, stiffness: 1e6, normal: [0, 0, 1] as Vec3, gap: 0 };
      system.addStops([-50, 50].map((at) => ({ ...up, at: [at, 0, 0] as const })));
      // A weight of 100 N: a spring that wants a millimetre more than it can have.
      system.add([{ a: GROUND, b: 0, at: [x, 0, 0], stiffness: 1e5, most: 100, shrink: [0, 0, -1] }]);
      system.settle();
      return system;
    };
    const inside = weighed(20);
    // 100 N at 20 mm from the middle: 30 N and 70 N on the two.
    expect(inside.displacement(0, [-50, 0, 0])[2]).toBeCloseTo(-30e-6, 10);
    expect(inside.displacement(0, [50, 0, 0])[2]).toBeCloseTo(-70e-6, 10);
    const outside = weighed(70);
    // Nothing holds it there: it tips until the weight has gone its millimetre.
    expect(outside.displacement(0, [70, 0, 0])[2]).toBeCloseTo(-1, 2);
    expect(outside.displacement(0, [50, 0, 0])[2]).toBeCloseTo(0, 2);
    expect(outside.displacement(0, [-50, 0, 0])[2]).toBeGreaterThan(1);
  });
});

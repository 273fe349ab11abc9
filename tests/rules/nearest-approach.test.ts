import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base/random.js';
import { boxPiece } from '../../src/geometry/convex.js';
import { hullDistance } from '../../src/geometry/rounded-hull.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { sixOf, type Joints } from '../../src/kinematics/arm.js';
import { elementsAt } from '../../src/kinematics/arm-sample.js';
import { ArmCourse, standing, type LoadedArm } from '../../src/rules/arm-course.js';
import { loadedArm, torchLoad } from '../../src/rules/arm-load.js';
import { deeperThan, nearerThan } from '../../src/rules/nearest-approach.js';
import { testCell } from '../support/cell.js';

const cell = testCell();
const radii = { column: 100, upperArm: 100, forearm: 80, wrist: 65, dressPack: undefined };
const handler = { ...cell.handlers[0]!, radii };
const welder = { ...cell.welders[0]!, radii };
const radians = (...degrees: number[]): Joints => sixOf((i) => (degrees[i]! * Math.PI) / 180);

/** Forearm, wrist and flange level at 1420 mm, the flange 1220 mm before the base and 120 before the wrist centre. */
const level = (first: number): Joints => radians(first, 0, 0, 0, 0, 0);
const ORIGIN = { at: [0, 0, 0], turn: [1, 0, 0, 0, 1, 0, 0, 0, 1] } as const;
const plain: LoadedArm = loadedArm({ ...handler, base: ORIGIN, arm: { ...handler.arm, a2: 0 } }, []);
const box = (half: Vec3, at: Vec3) => standing('box', boxPiece(half, at));
const FOREARM = 2;
const WRIST = 3;

describe('the nearest approach in a step', () => {
  it('of a swing over a block is the height of the forearm less its radius', () => {
    const swing = new ArmCourse(plain, [level(-70), level(55)]);
    const block = box([100, 40, 100], [700, 0, 1420 - 80 - 25 - 100]);
    expect(nearerThan(swing.movers[FOREARM]!, block, 25.2)).toBeCloseTo(25, 6);
    expect(nearerThan(swing.movers[FOREARM]!, block, 24.8)).toBeUndefined();
  });

  it('is found in the middle of a swing where the ends are far off: the tip passes a post', () => {
    const swing = new ArmCourse(plain, [level(-80), level(47)]);
    const post = box([50, 1, 400], [1220 + 65 + 15 + 50, 0, 1420]);
    const found = nearerThan(swing.movers[WRIST]!, post, 20)!;
    expect(found).toBeGreaterThan(15 - 1e-3);
    expect(found).toBeLessThan(15 + 1);
    expect(nearerThan(swing.movers[WRIST]!, post, 14.8)).toBeUndefined();
    const aside = new ArmCourse(plain, [level(-80), level(-30)]);
    expect(nearerThan(aside.movers[WRIST]!, post, 200)).toBeUndefined();
  });

  it('of two arms is over all pairs of moments', () => {
    const other = loadedArm({ ...handler!, base: { ...ORIGIN, at: [0, 1500, 0] } }, []);
    // Flanges straight at one another leave 1500 - 2 * 1285 < 0; each alone is at a right angle when the other is not.
    const [a, b] = [
      new ArmCourse(plain, [level(0), level(90)]),
      new ArmCourse(other, [level(0), level(-90)]),
    ];
    expect(nearerThan(a.movers[WRIST]!, b.movers[WRIST]!, 10)).toBeLessThan(1);
    const [still, away] = [new ArmCourse(plain, [level(0)]), new ArmCourse(other, [level(0), level(90)])];
    expect(nearerThan(still.movers[WRIST]!, away.movers[WRIST]!, 1000)).toBeUndefined();
  });

  it('of what only touches has no depth, and has that by which it reaches in', () => {
    const block = box([10, 10, 10], [0, 0, 0]);
    expect(deeperThan(block, box([10, 10, 10], [20, 3, 3]), 0.05)).toBeUndefined();
    expect(deeperThan(block, box([10, 10, 10], [19.98, 3, 3]), 0.05)).toBeUndefined();
    expect(deeperThan(block, box([10, 10, 10], [17, 3, 3]), 0.05)).toBeCloseTo(3, 6);
  });

  it('is what a dense row of postures shows, never missed by more than what lies between them', () => {
    const random = seededRandom(11);
    const loaded = loadedArm(welder, torchLoad(welder));
    const { limits } = welder.arm;
    const anywhere = (): Joints =>
      sixOf((i) => {
        const [low, high] = limits[i]!;
        return low + (high - low) * (0.2 + 0.6 * random());
      });
    for (let run = 0; run < 30; run += 1) {
      const [from, to] = [anywhere(), anywhere()];
      const course = new ArmCourse(loaded, [from, to]);
      const block = box([200, 150, 100], [1250 - 2000 * random(), 1000 * random() - 500, 1500 * random()]);
      const samples = Array.from({ length: 301 }, (_, k) =>
        elementsAt(
          loaded.body,
          sixOf((i) => from[i]! + ((to[i]! - from[i]!) * k) / 300),
        ),
      );
      course.movers.forEach((mover, element) => {
        const dense = Math.min(...samples.map((one) => hullDistance(one[element]!.hull, block.hull(0))));
        const found = nearerThan(mover, block, Infinity)!;
        expect(found).toBeLessThan(dense + 1);
        // Between two postures of the row the flange comes at most a few centimetres.
        expect(found).toBeGreaterThan(dense - 30);
        if (dense > 0) expect(nearerThan(mover, block, dense + 0.11)).toBeDefined();
      });
    }
  });
});

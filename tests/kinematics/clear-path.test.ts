import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxPiece } from '../../src/geometry/convex.js';
import { NO_TURN, type Pose } from '../../src/geometry/pose.js';
import { hullDistance, type RoundedHull } from '../../src/geometry/rounded-hull.js';
import { placedHull } from '../support/rounded-hulls.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { Joints } from '../../src/kinematics/arm.js';
import { motionBounds, type ArmBody } from '../../src/kinematics/arm-body.js';
import { elementsAt } from '../../src/kinematics/arm-sample.js';
import { between, keysMet, type Clearance, type Obstacle } from '../../src/kinematics/clear-path.js';
import { bodyAndMove, boxNear } from './any-body.js';
import { joints, SET_3 } from './published-arms.js';

const HERE: Pose = { at: [0, 0, 0], turn: NO_TURN };
const SAMPLES = 400;
/** By how much what is told to be met may be farther than the clearance at the posture where it was judged, mm. */
const GRAIN = 0.5;

/** The least distance of an obstacle from elements that count, at each of many postures of a joint move. */
function densest(body: ArmBody, [from, to]: readonly [Joints, Joints], hull: RoundedHull): number {
  let least = Infinity;
  for (let k = 0; k <= SAMPLES; k += 1)
    for (const element of elementsAt(body, between(from, to, k / SAMPLES)))
      least = Math.min(least, hullDistance(element.hull, hull));
  return least;
}

const farEnd = ({ coordinates: [, , , x, y, z] }: RoundedHull): Vec3 => [x!, y!, z!];

describe('what an arm meets in a joint move', () => {
  it('is all that a dense row of postures meets, and nothing that these are clear of by more than their spacing', () => {
    const seen = { met: 0, clear: 0, close: 0 };
    fc.assert(
      fc.property(
        bodyAndMove,
        fc.array(boxNear, { minLength: 3, maxLength: 3 }),
        fc.constantFrom(1, 10, 40),
        fc.constantFrom(0.03, 0.1, 0.3),
        ([body, from, far], boxes, least, share) => {
          const to = between(from, far, share);
          // Each about the far end of a link, where it is half way.
          const halfWay = elementsAt(body, between(from, to, 0.5));
          const obstacles = boxes.map((boxAt, key) => ({ hull: boxAt(farEnd(halfWay[key + 1]!.hull)), key }));
          const met = keysMet(body, [from, to], { obstacles, least });
          // No point of an element is farther than this from where it is at the nearest of the dense postures.
          const spacing = Math.max(...motionBounds(body, from, to)) / SAMPLES / 2;
          for (const { hull, key } of obstacles) {
            const distance = densest(body, [from, to], hull);
            if (distance < least - 1e-6) expect(met.has(key), `${distance} mm was missed`).toBe(true);
            if (met.has(key)) expect(distance).toBeLessThan(least + GRAIN + spacing + 1e-6);
            seen[met.has(key) ? 'met' : 'clear'] += 1;
            if (Math.abs(distance - least) < 30) seen.close += 1;
          }
        },
      ),
      { seed: 4, numRuns: 150 },
    );
    expect(Math.min(seen.met, seen.clear)).toBeGreaterThan(100);

    expect(seen.close).toBeGreaterThan(50);
  });
});

/** Set 3 without the offset of its forearm: upright to 1590 mm, from there level ahead, the flange 1490.5 mm before the base. */
const LEVEL: ArmBody = {
  base: HERE,
  arm: { ...SET_3, a2: 0 },
  radii: { column: 150, upperArm: 120, forearm: 100, wrist: 80, dressPack: undefined },
  tool: [],
};
const FOREARM = 2;
const turned = (first: number): Joints => joints(first, 0, 0, 0, 0, 0);
const block = (size: Vec3, at: Vec3, key: number): Obstacle => ({
  key,
  hull: placedHull(boxPiece([size[0] / 2, size[1] / 2, size[2] / 2]).vertices, 0, { at, turn: NO_TURN }),
});
/** Under the forearm of an arm that looks straight ahead, so much below it. */
const under = (gap: number, key = 0): Obstacle => block([200, 40, 100], [900, 0, 1590 - 100 - gap - 50], key);
const met = (way: readonly Joints[], obstacles: readonly Obstacle[], more: Partial<Clearance> = {}) => [
  ...keysMet(LEVEL, way, { obstacles, least: 10, ...more }),
];

describe('a clearance', () => {
  it('is kept or not at a single posture', () => {
    expect(met([turned(0)], [under(9)])).toEqual([0]);
    expect(met([turned(0)], [under(11)])).toEqual([]);
    expect(met([turned(40)], [under(9)])).toEqual([]);
    expect(met([], [under(9)])).toEqual([]);
  });

  it('is asked for in the middle of a sweep whose ends are far away', () => {
    expect(met([turned(-70), turned(75)], [under(9.9)])).toEqual([0]);
    // Half a millimetre is what the answer may be on the safe side.
    expect(met([turned(-70), turned(75)], [under(10.6)])).toEqual([]);
  });

  it('is asked for in every move of a way', () => {
    const behind: Obstacle = block([200, 40, 100], [-900, 0, 1590 - 100 - 5 - 50], 7);
    expect(met([turned(-30), turned(30), turned(170)], [under(5), behind])).toEqual([0]);
    expect(met([turned(30), turned(-30), turned(-190)], [under(5), behind])).toEqual([0, 7]);
  });

  it('is asked of the pairs that count only', () => {
    const asked: [Element: number, key: number][] = [];
    const notForearm = met([turned(-30), turned(30)], [under(5), under(3, 1)], {
      counts: (element, { key }) => {
        asked.push([element, key]);
        return element !== FOREARM || key === 1;
      },
    });
    expect(notForearm).toEqual([1]);
    expect(asked).toHaveLength(4 * 2);
  });

  it('of several pieces of one thing is one key', () => {
    const high = block([100, 100, 60], [1200, 0, 1590 + 105 + 30], 0);
    expect(met([turned(-30), turned(30)], [under(5), high])).toEqual([0]);
  });

  it('is no longer asked about once something fatal is met', () => {
    const way = [turned(-60), turned(0), turned(60), turned(100)];
    const late = block([40, 200, 100], [0, 900, 1590 - 100 - 5 - 50], 2);
    expect(met(way, [under(5, 1), late]).sort()).toEqual([1, 2]);
    expect(met(way, [under(5, 1), late], { fatal: (key) => key === 1 })).toEqual([1]);
    expect(met(way, [under(5, 1), late], { fatal: (key) => key === 2 }).sort()).toEqual([1, 2]);
  });
});

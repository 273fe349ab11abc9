import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { place, turnAbout, type Pose } from '../../src/geometry/pose.js';
import { rotate } from '../../src/geometry/pose.js';
import { unit, type Vec3 } from '../../src/geometry/vector.js';
import {
  clearOfCorners,
  cornersOn,
  meetingOf,
  opposedSeams,
  sidesMissed,
  type SeamRun,
} from '../../src/model/seam-relations.js';

const run = (from: Vec3, to: Vec3, open: Vec3 = [0, 0, 1]): SeamRun => ({ from, to, open: unit(open) });
const long = run([0, 0, 0], [300, 0, 0]);

describe('corners of a seam', () => {
  it('are where another seam ends on it, crosses it, or nearly does', () => {
    expect(meetingOf(long, run([120, 0, 0], [120, 200, 0]))).toBeCloseTo(120, 9);
    expect(meetingOf(long, run([120, -50, 0], [120, 200, 0]))).toBeCloseTo(120, 9);
    expect(meetingOf(long, run([120, 1.5, 0], [120, 200, 0]))).toBeCloseTo(120, 9);
    expect(meetingOf(long, run([120, 5, 0], [120, 200, 0]))).toBeUndefined();
    expect(meetingOf(long, run([0, 0, 0], [0, 0, 90]))).toBeCloseTo(0, 9);
    expect(meetingOf(long, run([340, 0, 0], [340, 0, 90]))).toBeUndefined();
  });

  it('are none beside it or in line with it', () => {
    expect(meetingOf(long, run([0, 1, 0], [300, 1, 0]))).toBeUndefined();
    expect(meetingOf(long, run([300, 0, 0], [500, 0, 0]))).toBeUndefined();
  });

  it('count once, in order, and keep tacks off on either side', () => {
    const others = [200, 100, 100].map((x) => run([x, 0, 0], [x, 80, 0]));
    expect(cornersOn(long, others).map(Math.round)).toEqual([100, 200]);
    expect(clearOfCorners(110, 150, [100, 200], 10)).toBe(true);
    expect(clearOfCorners(109, 149, [100, 200], 10)).toBe(false);
    expect(clearOfCorners(90, 130, [100], 0)).toBe(false);
  });
});

describe('the two sides of a joint', () => {
  const front = run([0, -5, 0], [300, -5, 0], [0, -1, 1]);
  const back = run([300, 5, 0], [0, 5, 0], [0, 1, 1]);

  it('are parallel seams that open away from each other', () => {
    expect(opposedSeams([front, back])).toEqual([{ first: 0, second: 1 }]);
    expect(opposedSeams([front, { ...back, open: front.open }])).toEqual([]);
    expect(opposedSeams([front, run([0, 5, 0], [0, 305, 0], [1, 0, 1])])).toEqual([]);
    expect(opposedSeams([front, run([400, 5, 0], [700, 5, 0], [0, 1, 1])])).toEqual([]);
  });

  it('of four round a tube are two pairs, wherever it stands', () => {
    const side = (p: Vec3, q: Vec3, out: Vec3): SeamRun => run(p, q, [out[0], out[1], 1]);
    const four = [
      side([-40, -30, 0], [40, -30, 0], [0, -1, 0]),
      side([40, -30, 0], [40, 30, 0], [1, 0, 0]),
      side([40, 30, 0], [-40, 30, 0], [0, 1, 0]),
      side([-40, 30, 0], [-40, -30, 0], [-1, 0, 0]),
    ];
    const expected = [
      { first: 0, second: 2 },
      { first: 1, second: 3 },
    ];
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 359 }), fc.integer({ min: -2000, max: 2000 }), (turn, shift) => {
        const pose: Pose = {
          at: [shift, 10, -shift],
          turn: turnAbout(unit([1, 2, 3]), (turn * Math.PI) / 180),
        };
        const moved = four.map((seam) => ({
          from: place(pose, seam.from),
          to: place(pose, seam.to),
          open: rotate(pose.turn, seam.open),
        }));
        const pairs = [...opposedSeams(moved)].sort((a, b) => a.first - b.first);
        expect(pairs).toEqual(expected);
      }),
      { numRuns: 50, seed: 63 },
    );
  });

  it('are paired within a quarter of a tack, and staggered where no tacks face each other', () => {
    const tacks = (...starts: number[]) => starts.map((start) => ({ start, length: 40 }));
    const missed = (sides: 'paired' | 'staggered' | 'free', a: number[], b: number[]) =>
      sidesMissed(sides, [front, back], [tacks(...a), tacks(...b)]);
    // The back runs the other way: 250 on it is 10 on the front.
    expect(missed('paired', [10, 250], [10, 250])).toEqual([[], []]);
    expect(missed('paired', [10, 250], [10, 240])).toEqual([[], []]);
    expect(missed('paired', [10, 250], [10, 239])).toEqual([[0], [1]]);
    expect(missed('staggered', [10, 250], [10, 250])).toEqual([
      [0, 1],
      [0, 1],
    ]);
    expect(missed('staggered', [10, 250], [50, 210])).toEqual([[], []]);
    expect(missed('staggered', [10, 250], [49, 210])).toEqual([[1], [0]]);
    expect(missed('free', [10], [10, 250])).toEqual([[], []]);
  });
});

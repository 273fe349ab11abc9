import { describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Frame } from '../../src/model/frame.js';
import { FrameStates } from '../../src/planning/frame-states.js';
import { heldIn, judgeFrameOrder } from '../../src/rules/frame-order.js';
import { gallows, ownFrame, randomFrame, standing, tripod } from '../support/frames.js';

/** Corners of the polygon that stands for the round foot, and directions in which a push is tried. */
const CORNERS = 48;
const DIRECTIONS = 48;
/** Polygon and directions are coarse: what is decided by less than this, mm, is not compared. */
const GRAIN = 1;

/** Whether forces at the feet that only press carry weight, clamps and a push in every direction: by linear programs. */
function standsByForces(programs: LinearPrograms, frame: Frame): boolean {
  const { bars, nodes, choices, foot, table } = frame;
  const used = [...new Set(bars.flatMap(({ ends }) => ends))];
  const feet = used.filter((node) => nodes[node]!.grounded).map((node) => nodes[node]!.point);
  const top = Math.max(...used.map((node) => nodes[node]!.point[2])) - table;
  const clamp = choices.clamp / choices['gravity-reserve'];
  const weight = bars.reduce((sum, bar) => sum + bar.weight, 0);
  const about = (axis: 0 | 1): number =>
    bars.reduce((sum, bar) => sum + bar.weight * bar.middle[axis], 0) +
    feet.reduce((sum, point) => sum + clamp * point[axis], 0);
  const push = weight * (choices['push-share'] * choices['push-reserve'] * top + choices['centre-shift']);
  const turn = (i: number, count: number): number => (2 * Math.PI * i) / count;
  const corners = feet.flatMap(([x, y]) =>
    Array.from({ length: CORNERS }, (_, i) => [
      x + foot * Math.cos(turn(i, CORNERS)),
      y + foot * Math.sin(turn(i, CORNERS)),
    ]),
  );
  const row = (of: (corner: number[]) => number, sum: number) => ({
    ...{ lower: sum, upper: sum },
    entries: corners.map((corner, j) => [j, of(corner)] as const),
  });
  return Array.from({ length: DIRECTIONS }, (_, i) => turn(i, DIRECTIONS)).every((way) => {
    const outcome = programs.solve({
      columns: corners.map(() => ({ cost: 0, lower: 0, upper: Infinity })),
      rows: [
        row(() => 1, weight + clamp * feet.length),
        row(([x]) => x!, about(0) + push * Math.cos(way)),
        row(([, y]) => y!, about(1) + push * Math.sin(way)),
      ],
    });
    return outcome.status === 'optimal';
  });
}

const withShift = (frame: Frame, more: number): Frame => ({
  ...frame,
  choices: { ...frame.choices, 'centre-shift': Math.max(0, frame.choices['centre-shift'] + more) },
});

describe('what must stay held', () => {
  it('agrees with forces at the feet found by linear programs, and with the planner', async () => {
    const programs = await loadLinearPrograms();
    const seen = { stands: 0, falls: 0 };
    for (let seed = 1; seed <= 60; seed += 1) {
      const frame = randomFrame(seed);
      const all = frame.bars.map((_, bar) => bar);
      const falls = (one: Frame): boolean =>
        heldIn(one, all).some((words) => words.includes('does not stand'));
      // A frame is one piece. Its verdict is compared where a millimetre either way does not change it.
      if (falls(withShift(frame, GRAIN)) !== falls(withShift(frame, -GRAIN))) continue;
      expect(!falls(frame)).toBe(standsByForces(programs, frame));
      seen[falls(frame) ? 'falls' : 'stands'] += 1;
      const nobody = heldIn(frame, all).length === 0;
      expect(new FrameStates(frame).finishedStands()).toBe(nobody);
    }
    expect(seen.stands).toBeGreaterThan(8);
    expect(seen.falls).toBeGreaterThan(8);
  });

  it('has the closed answer of a post on its own foot: tan of the tipping angle is b over h', () => {
    // Foot 2 x 10.65 mm, push 0.12 of the weight at the top, centre shifted by 1 mm: stands up to (10.65 - 1) / 0.12.
    const post = (height: number): Frame =>
      ownFrame(
        [
          [0, 0, 0],
          [0, 0, height],
        ],
        [[0, 1]],
        standing(),
      );
    expect(heldIn(post(80.4), [0])).toEqual([]);
    expect(heldIn(post(80.5), [0])).toEqual(['the piece with bar-0 does not stand']);
  });

  it('has the closed answer of an arm on three tacks', () => {
    const frame = gallows(standing());
    const { weight, length } = frame.bars[6]!;
    // Weight at half its length with 1.2, push of 0.08 at its end with 1.5, on three tacks at 10.65 mm.
    const moment = weight * length * (1.2 / 2 + 0.12);
    const force = (weight * 1.32) / 3 + (2 * moment) / (3 * 10.65);
    const arm = { ...frame, tackStrength: force + 0.01 };
    expect(heldIn(arm, [0, 1, 2, 3, 4, 5, 6])).toEqual([]);
    expect(heldIn({ ...frame, tackStrength: force - 0.01 }, [0, 1, 2, 3, 4, 5, 6])).toEqual([
      'the tacks at one end do not carry bar-6',
    ]);
  });
});

describe('an order of bars', () => {
  const frame = tripod(standing());

  it.each([
    [[0, 1], 'bar-2 is missing'],
    [[0, 1, 1], 'bar-1 comes twice'],
    [[0, 1, 7], 'there is no bar 7'],
    [[0, 1, -1], 'there is no bar -1'],
    [[], 'bar-0 is missing'],
  ])('%j is refused: %s', (order, why) => {
    expect(judgeFrameOrder(frame, order)).toEqual({ ok: false, error: why });
  });

  it('is refused when a bar comes to nothing', () => {
    expect(judgeFrameOrder(gallows(standing()), [5, 0, 1, 2, 3, 4, 6])).toEqual({
      ok: false,
      error: 'bar-5 comes to nothing that is in place, nor to the table',
    });
  });

  it('is refused when more must be held than can be', () => {
    expect(judgeFrameOrder(tripod(standing({ holds: 0 })), [0, 1, 2])).toEqual({
      ok: false,
      error: 'once bar-0 has joined, 1 must stay held, at most 0 can: the piece with bar-0 does not stand',
    });
  });
});

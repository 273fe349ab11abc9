import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { IDENTITY, fromRollPitchYaw, type Pose } from '../../src/geometry/pose.js';
import type { ArmBody } from '../../src/kinematics/arm-body.js';
import { sixOf, type Joints } from '../../src/kinematics/arm.js';
import { ArmMeetings } from '../../src/planning/arm-meetings.js';
import { grant } from '../../src/planning/grants.js';
import { neededPrecedences } from '../../src/planning/handshakes.js';
import type { RawPrograms } from '../../src/planning/programs.js';
import { schedule } from '../../src/planning/schedule.js';
import type { StepDraft } from '../../src/planning/steps.js';
import { testCell } from '../support/cell.js';

/** Two arms of the bench of the tests, 2 m apart and face to face: level they overlap by about half a metre. */
const cell = testCell();
const arm = cell.handlers[0]!;
const bodyAt = (base: Pose): ArmBody => ({ base, arm: arm.arm, radii: arm.radii, tool: [] });
const BODIES = [bodyAt(IDENTITY), bodyAt({ at: [2000, 0, 0], turn: fromRollPitchYaw(0, 0, 180) })] as const;
const CLEARANCE = 10;

const level = (degrees: number): Joints => sixOf((i) => (i === 0 ? (degrees * Math.PI) / 180 : 0));

/** A program that turns its arm about its base to each of some angles; milliseconds of each move are given. */
function turning(
  robot: 0 | 1,
  moves: readonly (readonly [degrees: number, milliseconds: number])[],
): StepDraft[] {
  let at = 90;
  return moves.map(([degrees, milliseconds], i): StepDraft => {
    const way = [level(at), level(degrees)];
    at = degrees;
    return {
      step: {
        do: 'move',
        path: 'joint',
        to: [degrees, 0, 0, 0, 0, 0],
        frame: 'cell',
        place: `${degrees} deg`,
        stage: i + 1,
      },
      milliseconds,
      room: { body: BODIES[robot], way },
    };
  });
}

const raw = (...programs: StepDraft[][]): RawPrograms => ({
  robots: { handlers: 1, welders: 1 },
  programs,
  precedences: [],
  stays: [],
});
const meetings = (programs: RawPrograms): ReturnType<ArmMeetings['of']> =>
  new ArmMeetings(CLEARANCE).of(programs);
const NAMES = ['one', 'other'];

/** The one turns in and out again at once; the other a little later. */
const passing = (): RawPrograms =>
  raw(
    turning(0, [
      [0, 1000],
      [90, 1000],
      [100, 500],
    ]),
    turning(1, [
      [100, 500],
      [0, 1000],
      [90, 1000],
    ]),
  );

describe('arms that would meet', () => {
  it('meet between turning in and turning out again, and nowhere else', () => {
    const both = passing();
    const [meeting, ...others] = meetings(both);
    expect(others).toEqual([]);
    expect(meeting).toEqual([
      { robot: 0, first: 0, last: 1, before: false, after: false },
      { robot: 1, first: 1, last: 2, before: false, after: false },
    ]);
  });

  it('go one after the other, who is done sooner first', () => {
    const both = passing();
    const granted = grant(both, meetings(both), NAMES);
    if (!granted.ok) throw new Error('deadlock');
    // The one first: 2 s, then the other turns for 2 s. The other first: it is out at 2.5 s, then 2.5 s more.
    const timeline = schedule(granted.value, neededPrecedences(granted.value));
    expect(timeline.makespan).toBe(4000);
    expect(granted.value.bound).toBe(4000);
    expect(granted.value.precedences).toEqual([
      {
        from: { robot: 0, index: 1 },
        to: { robot: 1, index: 1 },
        name: 'one-out-of-the-way',
        meaning: 'one at 90 deg, out of the way of other',
        guards: 'the arms of one and other would meet',
      },
    ]);
  });

  it('let the one that ends in the way go last', () => {
    const both = raw(
      turning(0, [[0, 1000]]),
      turning(1, [
        [0, 5000],
        [90, 1000],
      ]),
    );
    const granted = grant(both, meetings(both), NAMES);
    if (!granted.ok) throw new Error('deadlock');
    expect(granted.value.precedences.map(({ from, to }) => [from.robot, to.robot])).toEqual([[1, 0]]);
    expect(granted.value.choices).toBe(0);
  });

  it('cannot both end in the way', () => {
    const both = raw(turning(0, [[0, 1000]]), turning(1, [[0, 5000]]));
    expect(grant(both, meetings(both), NAMES)).toEqual({ ok: false, error: { stage: 1, robots: [0, 1] } });
  });

  it('never meet once it is granted who goes first, and no order of two meetings is shorter', () => {
    const angle = fc.constantFrom(0, 20, 45, 90, 120);
    const move = fc.tuple(
      angle,
      fc.integer({ min: 1, max: 9 }).map((tenths) => tenths * 100),
    );
    const program = fc
      .array(move, { minLength: 1, maxLength: 7 })
      .map((moves) => [...moves, [90, 300] as const]);
    fc.assert(
      fc.property(program, program, (a, b) => {
        const both = raw(turning(0, a), turning(1, b));
        const found = meetings(both);
        const granted = grant(both, found, NAMES);
        if (!granted.ok) return;
        expect(meetings(granted.value)).toEqual([]);
        const timeline = schedule(granted.value, neededPrecedences(granted.value));
        expect(granted.value.bound).toBe(timeline.makespan);
        expect(timeline.makespan).toBe(shortest(both, found));
      }),
      { seed: 5, numRuns: 60 },
    );
  });
});

/** The least makespan over all ways in which either stretch of each meeting comes first, tried one by one. */
function shortest(both: RawPrograms, found: ReturnType<typeof meetings>): number {
  let least = Infinity;
  for (let choice = 0; choice < 2 ** found.length; choice += 1) {
    const precedences = found.map(([one, other], i) => {
      const [first, later] = (choice >> i) % 2 === 0 ? [one, other] : [other, one];
      return {
        from: { robot: first.robot, index: first.last },
        to: { robot: later.robot, index: later.first },
        ...{ name: '', meaning: '', guards: '' },
      };
    });
    try {
      const all = { ...both, precedences };
      least = Math.min(least, schedule(all, neededPrecedences(all)).makespan);
    } catch {
      // A circle: they would wait for each other.
    }
  }
  return least;
}

import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { CrossingOrder, type Crossing } from '../../src/algorithms/crossing-order.js';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { seededRandom } from '../../src/base/random.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { neededPrecedences, synchronised, type Synchronised } from '../../src/planning/handshakes.js';
import type { Precedence, RawPrograms } from '../../src/planning/programs.js';
import { schedule } from '../../src/planning/schedule.js';
import { statedHandshakes } from '../../src/planning/stated-handshakes.js';
import { happensBefore } from '../../src/algorithms/happens-before.js';
import { lineFindings } from '../../src/rules/handshake-lines.js';
import { eventsOf, runOf } from '../../src/rules/program-run.js';
import { redundantHandshakes } from '../../src/rules/redundant-handshakes.js';
import { barePlan } from '../support/bare-plan.js';
import { storyPlan } from '../support/story-plan.js';
import { randomRawPrograms } from './random-raw-programs.js';

const crossingOf = ({ from, to }: Precedence): Crossing => ({
  from: { program: from.robot, event: from.index },
  to: { program: to.robot, event: to.index },
});

const durationsOf = ({ programs }: RawPrograms): number[][] =>
  programs.map((steps) => steps.map(({ milliseconds }) => milliseconds));

/** Whether the handshakes keep what the work requires, however long the steps take. */
const keeps = (raw: RawPrograms, handshakes: readonly Precedence[]): boolean => {
  const order = CrossingOrder.of(durationsOf(raw), handshakes.map(crossingOf));
  return order !== undefined && raw.precedences.map(crossingOf).every(({ from, to }) => order.upTo(from, to));
};

const handshakesOf = ({ schedule: { handshakes } }: Synchronised): Precedence[] =>
  handshakes.map(({ precedence }) => precedence);

/** Robots for the programs of a schedule, the first of which handle. */
const robotsOf = ({ schedule: { programs } }: Synchronised, handlers: number) =>
  programs.map((_, i) => ({
    id: `robot ${i}`,
    duty: i < handlers ? ('handle' as const) : ('weld' as const),
  }));

const shapes = fc.tuple(fc.integer(), fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: 8 }));

/** Runs the programs with steps that take as long as they happen to, and notes when each step begins and ends. */
function executed(
  raw: RawPrograms,
  handshakes: readonly Precedence[],
  random: () => number,
): readonly (readonly { readonly start: number; readonly end: number }[])[] {
  const done = raw.programs.map((): { start: number; end: number }[] => []);
  for (let moved = true; moved;) {
    moved = false;
    raw.programs.forEach((steps, robot) => {
      const own = done[robot]!;
      const index = own.length;
      if (index === steps.length) return;
      const awaited = handshakes.filter(({ to }) => to.robot === robot && to.index === index);
      const ends = awaited.map(({ from }) => done[from.robot]![from.index]?.end);
      if (ends.includes(undefined)) return;
      const start = Math.max(own.at(-1)?.end ?? 0, ...(ends as number[]));
      own.push({ start, end: start + random() * 10 });
      moved = true;
    });
  }
  return done;
}

describe('handshakes of random programs', () => {
  it('are as few as counted, keep what is required, and each is needed', () => {
    fc.assert(
      fc.property(shapes, ([seed, handlers, stages]) => {
        const raw = randomRawPrograms(seed, handlers, stages);
        const needed = neededPrecedences(raw);
        const found = synchronised(raw);
        const handshakes = handshakesOf(found);
        expect(found.set).toMatchObject({
          required: raw.precedences.length,
          afterReduction: needed.length,
          afterResynchronisation: handshakes.length,
          minimality: handlers === 1 ? 'two-robot-least' : 'greedy',
        });
        expect(handshakes.length).toBeLessThanOrEqual(needed.length);
        expect(keeps(raw, handshakes)).toBe(true);
        for (const one of handshakes)
          expect(
            keeps(
              raw,
              handshakes.filter((other) => other !== one),
            ),
          ).toBe(false);
        expect(found.schedule.makespan).toBe(schedule(raw, needed).makespan);
      }),
      { seed: 7, numRuns: 150 },
    );
  });

  it('keep every required precedence when steps take any time', () => {
    fc.assert(
      fc.property(shapes, ([seed, handlers, stages]) => {
        const raw = randomRawPrograms(seed, handlers, stages);
        const runs = executed(raw, handshakesOf(synchronised(raw)), seededRandom(seed + 1));
        runs.forEach((own, robot) => expect(own).toHaveLength(raw.programs[robot]!.length));
        for (const { from, to } of raw.precedences)
          expect(runs[from.robot]![from.index]!.end).toBeLessThanOrEqual(runs[to.robot]![to.index]!.start);
      }),
      { seed: 7, numRuns: 150 },
    );
  });

  it('have names of their own whatever the parts are called, and tell all that is merged', () => {
    let merged = 0;
    fc.assert(
      fc.property(shapes, ([seed, handlers, stages]) => {
        const found = synchronised(randomRawPrograms(seed, handlers, stages));
        const robots = robotsOf(found, handlers);
        const stated = statedHandshakes(robots, found.schedule, DEFAULT_SETTINGS);
        for (const { name } of stated) expect(name).toMatch(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/);
        expect(new Set(stated.map(({ name }) => name)).size).toBe(stated.length);
        const carried = stated.flatMap(({ carries }) => (carries ? [carries.length] : []));
        merged += carried.length;
        const count = stated.length - carried.length + carried.reduce((sum, n) => sum + n, 0);
        expect(count).toBeGreaterThanOrEqual(found.set.afterReduction);
      }),
      { seed: 7, numRuns: 250 },
    );
    expect(merged).toBeGreaterThan(0);
  });

  it('share lines, four-phase, only where the one before is surely consumed', () => {
    let shared = 0;
    fc.assert(
      fc.property(shapes, ([seed, handlers, stages]) => {
        const found = synchronised(randomRawPrograms(seed, handlers, stages));
        const robots = robotsOf(found, handlers);
        const settings = {
          ...DEFAULT_SETTINGS,
          handshakes: { 'time-limit': 60, kind: 'four-phase' as const },
        };
        const handshakes = statedHandshakes(robots, found.schedule, settings);
        const plan: GeometricPlan = {
          ...barePlan(),
          handshakes,
          programs: robots.map(({ id, duty }, i) => ({
            ...{ robot: id, duty },
            steps: found.schedule.programs[i]! as readonly unknown[] as Step[],
          })),
        };
        expect(redundantHandshakes(plan)).toEqual([]);
        const run = runOf(plan);
        const order = happensBefore(eventsOf(run));
        expect(order.ok && lineFindings('', run, order.value)).toEqual([]);
        if (
          new Set(handshakes.map(({ from, to, line }) => [from.robot, to.robot, line].join())).size <
          handshakes.length
        )
          shared += 1;
      }),
      { seed: 7, numRuns: 60 },
    );
    expect(shared).toBeGreaterThan(10);
  });
});

describe('handshakes of planned stories', () => {
  it('are four-phase where the settings ask for it, on as few lines as can be, with the protocol', () => {
    const { plan } = storyPlan('one-signal-each-way', programs, 'handshakes: { kind: four-phase }');
    expect(plan.handshakes.length).toBeGreaterThan(1);
    for (const { kind, line } of plan.handshakes) expect([kind, line]).toEqual(['four-phase', 1]);
    expect(plan.handshakeSet.protocol).toHaveLength(4);
    expect(plan.safety.witness).toMatchObject({ complete: true, reduction: 'unseen-events-first' });
    expect(plan.safety.properties.at(-1)).toContain('pair of lines');
  }, 60_000);

  let programs: LinearPrograms;
  beforeAll(async () => {
    programs = await loadLinearPrograms();
  });

  it.each(['one-signal-each-way', 'two-robots-two-holds'])(
    '%s: none is implied by the others',
    (story) => {
      const { plan } = storyPlan(story, programs);
      expect(plan.handshakes.length).toBeGreaterThan(0);
      expect(redundantHandshakes(plan)).toEqual([]);
      expect(plan.safety.witness).toMatchObject({ robots: plan.programs.length, complete: true });
    },
    60_000,
  );
});

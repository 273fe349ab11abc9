import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CrossingOrder, type Crossing } from '../../src/algorithms/crossing-order.js';
import { resynchronise } from '../../src/algorithms/resynchronise.js';
import { randomCrossings, reduced } from './random-crossings.js';

const at = (program: number, event: number): Crossing['from'] => ({ program, event });
const LIMIT = 5000;

/** Whether crossings imply the required ones without a circle or a longer makespan. */
function does(
  durations: readonly (readonly number[])[],
  crossings: readonly Crossing[],
  required: readonly Crossing[],
  makespan: number,
): boolean {
  const order = CrossingOrder.of(durations, crossings);
  return (
    order !== undefined &&
    order.makespan <= makespan &&
    required.every(({ from, to }) => order.upTo(from, to))
  );
}

/** Every crossing between any two steps of different programs. */
function anywhere(durations: readonly (readonly number[])[]): Crossing[] {
  const steps = durations.flatMap((list, program) => list.map((_, event) => at(program, event)));
  return steps.flatMap((from) => steps.flatMap((to) => (from.program === to.program ? [] : [{ from, to }])));
}

/** Every crossing from where a required one begins to where one of its direction ends. */
const atKnownSteps = (required: readonly Crossing[]): Crossing[] =>
  required.flatMap(({ from }) =>
    required.flatMap((other) => (other.from.program === from.program ? [{ from, to: other.to }] : [])),
  );

/** Whether some set of so many of the crossings is good, each tried one after the other. */
function someDo(
  all: readonly Crossing[],
  size: number,
  good: (crossings: readonly Crossing[]) => boolean,
): boolean {
  const grow = (chosen: readonly Crossing[], next: number): boolean => {
    if (chosen.length === size) return good(chosen);
    for (let i = next; i < all.length; i += 1) if (grow([...chosen, all[i]!], i + 1)) return true;
    return false;
  };
  return grow([], 0);
}

describe('resynchronise', () => {
  it('merges two waits where the later signal comes soon enough', () => {
    const durations = [
      [2, 2, 9],
      [5, 1, 1],
    ];
    const required = [
      { from: at(0, 0), to: at(1, 1) },
      { from: at(0, 1), to: at(1, 2) },
    ];
    expect(resynchronise(durations, required, LIMIT)).toEqual({
      crossings: [{ from: at(0, 1), to: at(1, 1), carries: [0, 1] }],
      minimality: 'two-robot-least',
    });
  });

  it('leaves them where the makespan would grow, or the robots would wait for each other', () => {
    const late = [
      [2, 9],
      [1, 8, 1],
    ];
    const both = [
      { from: at(0, 0), to: at(1, 1) },
      { from: at(0, 1), to: at(1, 2) },
    ];
    expect(resynchronise(late, both, LIMIT).crossings).toHaveLength(2);
    // held, tacked, let go and away, tacked again: the usual talk of two robots at one part.
    const talk = [
      { from: at(0, 0), to: at(1, 0) },
      { from: at(1, 0), to: at(0, 1) },
      { from: at(0, 1), to: at(1, 1) },
    ];
    const idle = [
      [1, 1],
      [1, 50],
    ];
    expect(resynchronise(idle, talk, LIMIT)).toMatchObject({ minimality: 'two-robot-least' });
    expect(resynchronise(idle, talk, LIMIT).crossings).toHaveLength(3);
  });

  it('finds the least number for two programs, against every set of fewer crossings anywhere', () => {
    let merged = 0;
    for (let seed = 0; seed < 500; seed += 1) {
      const { durations, required } = randomCrossings(seed, { programs: 2, steps: 5, crossings: 6 });
      const crossings = sound(durations, required);
      const { makespan } = CrossingOrder.of(durations, required)!;
      const fewer = crossings.length - 1;
      if (fewer >= 0 && fewer <= 3)
        expect(someDo(anywhere(durations), fewer, (set) => does(durations, set, required, makespan))).toBe(
          false,
        );
      if (crossings.length < required.length) merged += 1;
    }
    expect(merged).toBeGreaterThan(20);
  });

  it('finds the least number where not all that can be merged can be merged at once', () => {
    let tried = 0;
    for (let seed = 0; seed < 3000; seed += 1) {
      const { durations, required } = randomCrossings(seed, { programs: 2, steps: 12, crossings: 14 });
      if (!clash(durations, required)) continue;
      const crossings = sound(durations, required);
      const { makespan } = CrossingOrder.of(durations, required)!;
      expect(
        someDo(atKnownSteps(required), crossings.length - 1, (set) =>
          does(durations, set, required, makespan),
        ),
      ).toBe(false);
      tried += 1;
    }
    expect(tried).toBeGreaterThan(10);
  });

  it('says so when the trials do not suffice', () => {
    const { durations, required } = [...Array(400).keys()]
      .map((seed) => randomCrossings(seed, { programs: 2, steps: 8, crossings: 12 }))
      .find((one) => clash(one.durations, one.required))!;
    expect(resynchronise(durations, required, LIMIT).minimality).toBe('two-robot-least');
    expect(resynchronise(durations, required, 0).minimality).toBe('greedy');
  });

  it('keeps what is required of several programs, with waits where there were some, and none needless', () => {
    let merged = 0;
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 3, max: 5 }), (seed, programs) => {
        const { durations, required } = randomCrossings(seed, { programs, steps: 8, crossings: 16 });
        const { makespan } = CrossingOrder.of(durations, required)!;
        const { crossings, minimality } = resynchronise(durations, required, LIMIT);
        expect(minimality).toBe('greedy');
        expect(does(durations, crossings, required, makespan)).toBe(true);
        for (const { from, to } of crossings) {
          expect(required.map((one) => one.from)).toContainEqual(from);
          expect(required.map((one) => one.to)).toContainEqual(to);
        }
        for (const one of crossings)
          expect(
            does(
              durations,
              crossings.filter((other) => other !== one),
              required,
              Infinity,
            ),
          ).toBe(false);
        expect(reduced(durations, crossings)).toHaveLength(crossings.length);
        if (crossings.length < required.length) merged += 1;
      }),
      { seed: 7, numRuns: 150 },
    );
    expect(merged).toBeGreaterThan(20);
  });

  it('refuses what leads in a circle', () => {
    const circle = [
      { from: at(0, 0), to: at(1, 0) },
      { from: at(1, 0), to: at(0, 0) },
    ];
    expect(() => resynchronise([[1], [1]], circle, LIMIT)).toThrow(RangeError);
  });
});

/** What two programs are resynchronised to, which must be proved and do what is required. */
function sound(
  durations: readonly (readonly number[])[],
  required: readonly Crossing[],
): readonly Crossing[] {
  const { makespan } = CrossingOrder.of(durations, required)!;
  const { crossings, minimality } = resynchronise(durations, required, LIMIT);
  expect(minimality).toBe('two-robot-least');
  expect(does(durations, crossings, required, makespan)).toBe(true);
  expect(new Set(crossings.flatMap(({ carries }) => carries)).size).toBe(required.length);
  return crossings;
}

/** Whether two merges fit one by one and not together, so that a search is needed. */
function clash(durations: readonly (readonly number[])[], required: readonly Crossing[]): boolean {
  const { makespan } = CrossingOrder.of(durations, required)!;
  const pairs = required.flatMap((a) =>
    required.flatMap((b) =>
      a.from.program === b.from.program && a.from.event < b.from.event ? [{ from: b.from, to: a.to }] : [],
    ),
  );
  const fitting = pairs.filter((pair) => does(durations, [...required, pair], required, makespan));
  return fitting.some((one) =>
    fitting.some((other) => !does(durations, [...required, one, other], required, makespan)),
  );
}

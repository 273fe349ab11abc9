import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differenceOf } from '../../src/explain/difference/difference.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { barePlan } from '../support/bare-plan.js';
import { abstractOf, mirror, planA, planB } from './difference-plans.js';

describe('differenceOf', () => {
  it('finds nothing between a plan and itself, also when it was read again', () => {
    for (const plan of [planA(), planB(), abstractOf('a', 'b')]) {
      const again = JSON.parse(JSON.stringify(plan)) as typeof plan;
      const difference = differenceOf(plan, again);
      expect(difference.same).toBe(true);
      expect([difference.stages, difference.tacks, difference.order.moved, difference.elsewhere]).toEqual([
        ...[[], [], [], []],
      ]);
    }
  });

  it('is mirrored when the plans are exchanged', () => {
    const pairs = [
      [planA(), planB()],
      [abstractOf('p', 'q', 'r'), abstractOf('r', 'p', 's')],
      [planA(), abstractOf('base', 'wall')],
    ] as const;
    for (const [a, b] of pairs) expect(differenceOf(b, a)).toEqual(mirror(differenceOf(a, b)));
  });

  it('is mirrored for tacks at any places, and pairs them with the least sum of distances', () => {
    const starts = fc.uniqueArray(fc.integer({ min: 0, max: 26 }), { maxLength: 5 });
    const withTacks = (places: readonly number[]): GeometricPlan => {
      const plan = planA();
      const [first] = plan.stages[1]!.tacks;
      plan.stages[1]!.tacks = places.map((at) => ({ ...first!, id: `J1.1@${at * 10}`, start: at * 10 }));
      return plan;
    };
    fc.assert(
      fc.property(starts, starts, (p, q) => {
        const [a, b] = [withTacks(p), withTacks(q)];
        const difference = differenceOf(a, b);
        expect(differenceOf(b, a)).toEqual(mirror(difference));
        const [seam] = difference.tacks;
        const told = seam ? seam.changed.reduce((sum, { mm }) => sum + mm, 0) : 0;
        const [short, long] = p.length < q.length ? [p, q] : [q, p];
        expect(told).toBeCloseTo(10 * leastSum(short, long), 6);
        expect((seam?.only.a.length ?? 0) - (seam?.only.b.length ?? 0)).toBe(p.length - q.length);
      }),
      { numRuns: 200, seed: 8 },
    );
  });

  it('has the differences of the documents as numbers', () => {
    const [a, b] = [planA(), planB()];
    const { objective, timeline, handshakes, tacks, order } = differenceOf(a, b);
    for (const { term, by } of objective.terms) {
      const value = (plan: GeometricPlan): number =>
        plan.objective.find((entry) => entry.term === term)!.value;
      expect(by).toBe(Math.abs(value(a) - value(b)));
    }
    expect(objective.better).toBe('b');
    expect(timeline!.makespan).toEqual({ a: a.timeline.makespan, b: b.timeline.makespan });
    expect(timeline!.waits).toEqual([{ robot: 'welder', a: 4, b: 10 }]);
    expect(handshakes).toEqual({ a: 0, b: 1 });
    expect(tacks.map(({ count }) => count)).toEqual([{ a: 3, b: 2 }]);
    expect(order.moved).toEqual([{ part: 'cap', a: 4, b: 2 }]);
  });

  it('names the sections that differ where nothing that it tells does', () => {
    const [a, b] = [barePlan('base'), barePlan('base')];
    b.cautions = ['Held parts fall.'];
    const difference = differenceOf(a, b);
    expect(difference.same).toBe(false);
    expect(difference.elsewhere).toEqual(['cautions']);
  });

  it('does not rank plans whose objectives are not alike', () => {
    const b = planB();
    b.objective.reverse();
    expect(differenceOf(planA(), b).objective.better).toBe('unlike');
  });
});

/** Least sum of distances of all choices of partners, by trying them all. */
function leastSum(short: readonly number[], long: readonly number[]): number {
  if (short.length === 0) return 0;
  const [first, ...rest] = short;
  return Math.min(
    ...long.map(
      (place, i) => Math.abs(place - first!) + leastSum(rest, [...long.slice(0, i), ...long.slice(i + 1)]),
    ),
  );
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareText } from '../../src/base/order.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { orderFacts, orderMasks, partIds } from '../../src/planning/abstract-facts.js';
import { exchangeable, inOneOrder } from '../../src/planning/abstract-symmetry.js';
import { wayTable } from '../../src/planning/abstract-ways.js';
import { allOrders } from './abstract-enumeration.js';
import { bareParts, partsOnly, smallWithCopies } from './abstract-samples.js';

const TERMS = ['regrips', 'tool-changes', 'time'] as const;

const groupsOf = (weldment: AbstractWeldment): readonly (readonly string[])[] => {
  const ids = partIds(weldment);
  const masks = orderMasks(weldment, orderFacts(weldment));
  return exchangeable(masks, wayTable(weldment, TERMS).ways).map((group) => group.map((part) => ids[part]!));
};

const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1));

/** Whether an order takes the parts of every group one after another by name. */
const isByName = (order: readonly string[], groups: readonly (readonly string[])[]): boolean =>
  groups.every((group) => {
    const taken = order.filter((id) => group.includes(id));
    return taken.join() === [...taken].sort(compareText).join();
  });

describe('parts that can be exchanged', () => {
  const way = (gripper: string, seconds: number) => [{ gripper, regrips: 0, seconds }];

  it('are all bare parts that nothing tells apart', () => {
    expect(groupsOf(bareParts(4))).toEqual([['p0', 'p1', 'p2', 'p3']]);
  });

  it('have the same ways', () => {
    const parts = { a: way('x', 5), b: way('x', 5), c: way('y', 5), d: way('y', 6) };
    expect(groupsOf(partsOnly(parts))).toEqual([['a', 'b']]);
  });

  it('have the same neighbours, whether or not they touch each other', () => {
    const contacts = [
      ['p0', 'p1'],
      ['p0', 'p2'],
      ['p2', 'p3'],
    ] as const;
    expect(groupsOf(bareParts(4, { contacts }))).toEqual([]);
    const fork = contacts.slice(0, 2);
    expect(groupsOf(bareParts(3, { contacts: fork }))).toEqual([['p1', 'p2']]);
    expect(groupsOf(bareParts(3, { contacts: [...fork, ['p1', 'p2']] }))).toEqual([['p0', 'p1', 'p2']]);
  });

  it('wait for the same parts, and the same wait for them', () => {
    const needs = [{ part: 'p3', after: ['p1', 'p2'] }];
    expect(groupsOf(bareParts(4, { needs }))).toEqual([['p1', 'p2']]);
    expect(groupsOf(bareParts(4, { needs, blocking: [{ part: 'p1', by: ['p0'] }] }))).toEqual([]);
  });

  it('are none with the part that the file wants first', () => {
    expect(groupsOf(bareParts(3, { first: 'p1' }))).toEqual([['p0', 'p2']]);
  });

  it('may have other joints, since all tacks are laid whatever the order', () => {
    const joints = [{ between: ['p0', 'p1'] as const, tacks: 3 }];
    expect(groupsOf(bareParts(3, { joints }))).toEqual([['p0', 'p1', 'p2']]);
  });

  it('leave one of all the orders that are the same but for exchanges', () => {
    let more = 0;
    fc.assert(
      fc.property(smallWithCopies, (weldment) => {
        const groups = groupsOf(weldment);
        const orders = allOrders(weldment);
        const byName = orders.filter((order) => isByName(order, groups));
        const same = groups.reduce((product, { length }) => product * factorial(length), 1);
        expect(byName.length * same).toBe(orders.length);
        if (same > 1 && orders.length > 0) more += 1;
      }),
      { numRuns: 300 },
    );
    expect(more).toBeGreaterThan(100);
  });

  it('come by number in the masks, and nothing else is added', () => {
    const weldment = bareParts(4, { needs: [{ part: 'p3', after: ['p1', 'p2'] }] });
    const masks = orderMasks(weldment, orderFacts(weldment));
    const { before } = inOneOrder(masks, [[1, 2]]);
    expect(before.map((set) => set[0])).toEqual([0, 0, 0b10, 0b110]);
  });
});

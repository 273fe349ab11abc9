import type { ObjectiveTerm } from '../../src/model/settings.js';
import { termValue, type TermValues } from '../../src/model/objective.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import type { Wish } from '../../src/model/wish.js';
import { keepsWish } from '../../src/rules/wish-kept.js';

/** Whether the file lets a part join after these, read word for word; nothing is looked ahead. */
function mayJoin(weldment: AbstractWeldment, part: string, placed: readonly string[]): boolean {
  const { blocking, needs, contacts, first } = weldment;
  if (placed.length === 0 && first !== undefined && first !== part) return false;
  if (blocking.some((row) => row.part === part && row.by.some((id) => placed.includes(id)))) return false;
  if (needs.some((row) => row.part === part && row.after.some((id) => !placed.includes(id)))) return false;
  if (placed.length === 0 || contacts === undefined) return true;
  return contacts.some(([a, b]) => (a === part && placed.includes(b)) || (b === part && placed.includes(a)));
}

/** Every legal order, by plain recursion. */
export function allOrders(weldment: AbstractWeldment): string[][] {
  const ids = weldment.parts.map(({ id }) => id);
  const walk = (placed: string[]): string[][] =>
    placed.length === ids.length
      ? [placed]
      : ids
          .filter((id) => !placed.includes(id) && mayJoin(weldment, id, placed))
          .flatMap((id) => walk([...placed, id]));
  return walk([]);
}

const later = (a: readonly number[], b: readonly number[]): boolean => {
  const at = a.findIndex((term, i) => term !== b[i]);
  return at >= 0 && a[at]! > b[at]!;
};

/**
 * The least cost over all orders and all choices of ways, time in milliseconds; undefined when no order is legal.
 * Only for weldments whose times are tenths of a second. A path that breaks a wish that is not soft does not count.
 */
export function leastByEnumeration(
  weldment: AbstractWeldment,
  objective: readonly ObjectiveTerm[],
  wishes: readonly Wish[] = weldment.wishes ?? [],
): readonly number[] | undefined {
  const ways = new Map(weldment.parts.map(({ id, ways: given }) => [id, given]));
  const { joints, times } = weldment;
  let least: readonly number[] | undefined;
  const walk = (
    order: readonly string[],
    at: number,
    mounted: string,
    counted: TermValues,
    chosen: readonly { gripper: string; regrips: number }[],
  ): void => {
    if (at === order.length) {
      const stages = order.map((part, i) => ({
        ...{ part, held: false, tacks: [], regrips: chosen[i]!.regrips },
        grip: { gripper: chosen[i]!.gripper === '' ? null : chosen[i]!.gripper },
      }));
      const broken = wishes.filter((wish) => !keepsWish(wish, stages));
      if (broken.some(({ soft }) => !soft)) return;
      const weight = broken.reduce((sum, wish) => sum + wish.weight, 0);
      const cost = objective.map((term) => termValue({ ...counted, wishes: weight }, term));
      if (least === undefined || later(least, cost)) least = cost;
      return;
    }
    const part = order[at]!;
    const placed = order.slice(0, at);
    const tacks = joints
      .filter(({ between }) => between.includes(part) && between.some((id) => placed.includes(id)))
      .reduce((sum, joint) => sum + joint.tacks, 0);
    const given = ways.get(part)!;
    for (const way of given.length > 0 ? given : [{ gripper: '', regrips: 0, seconds: 0 }]) {
      const change = way.gripper !== '' && mounted !== '' && way.gripper !== mounted ? 1 : 0;
      const tenths =
        Math.round(10 * way.seconds) +
        tacks * Math.round(10 * times.tack) +
        change * Math.round(10 * times.toolChange);
      const mountedThen = way.gripper === '' ? mounted : way.gripper;
      const costs = {
        regrips: counted.regrips + way.regrips,
        'tool-changes': counted['tool-changes'] + change,
        distortion: 0,
        time: counted.time + 100 * tenths,
      };
      walk(order, at + 1, mountedThen, costs, [...chosen, way]);
    }
  };
  for (const order of allOrders(weldment))
    walk(order, 0, '', { regrips: 0, 'tool-changes': 0, distortion: 0, time: 0 }, []);
  return least;
}

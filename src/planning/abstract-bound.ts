import { compareCost, type Cost } from '../algorithms/cost.js';
import { has, type PartSet } from '../base/part-set.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { OrderMasks } from './abstract-facts.js';
import { ANY_GRIPPER, type WayTable } from './abstract-ways.js';
import { inOrder } from './objective.js';

/** Beyond this many grippers, the rarer ones are taken as one: 2^8 sets of grippers are looked at in each state. */
const MOST_CLASSES = 8;

/** The least cost of the ways of every part when only some grippers are used; infinite where a part has none. */
interface SubsetCosts {
  readonly classes: number;
  readonly classOf: readonly number[];
  readonly regrips: Float64Array;
  readonly milliseconds: Float64Array;
}

/**
 * A lower bound on what the parts not yet in place will cost: the least over every set of grippers that may be used
 * for them. With a set fixed, each part takes the best way that the set offers, and the changes are at least one
 * for each gripper of the set but the first, and at least those that some chain of parts, each before the next,
 * forces. Tacks ahead are exact.
 */
export class RemainingCost {
  private readonly subsets: SubsetCosts;
  private readonly chains: Int32Array;
  private readonly only: Int32Array;
  private readonly remaining: Int32Array;

  /** @param order some legal order of all parts */
  constructor(
    private readonly table: WayTable,
    masks: OrderMasks,
    order: readonly number[],
    private readonly objective: readonly ObjectiveTerm[],
    private readonly toolChange: number,
  ) {
    this.subsets = subsetCosts(table);
    this.chains = chainChanges(table, masks, order);
    this.only = Int32Array.from(table.ways, (ways) => (ways.length === 1 ? ways[0]!.gripper : ANY_GRIPPER));
    this.remaining = new Int32Array(order.length);
  }

  /**
   * @param gripper number of the gripper on the arm; the number of grippers while any may be mounted
   * @param tacksAhead milliseconds of the tacks not yet laid
   */
  least(inPlace: PartSet, gripper: number, tacksAhead: number): Cost {
    let count = 0;
    for (let part = 0; part < this.remaining.length; part += 1)
      if (!has(inPlace, part)) this.remaining[count++] = part;
    const parts = this.remaining.subarray(0, count);
    const changes = this.leastChanges(parts, gripper);
    const { classes, classOf } = this.subsets;
    const mounted = gripper < classOf.length ? 1 << classOf[gripper]! : 0;
    let least: Cost | undefined;
    for (let set = 0; set < 1 << classes; set += 1) {
      if ((set & mounted) !== mounted) continue;
      const cost = this.withGrippers(set, parts, changes, tacksAhead);
      if (cost !== undefined && (least === undefined || compareCost(cost, least) < 0)) least = cost;
    }
    return least!;
  }

  /** The bound when exactly the grippers of a set are used; undefined when they are not enough. */
  private withGrippers(set: number, parts: Int32Array, changes: number, tacks: number): Cost | undefined {
    const { classes, regrips, milliseconds } = this.subsets;
    let turns = 0;
    let time = tacks;
    for (const part of parts) {
      const at = (part << classes) | set;
      turns += regrips[at]!;
      time += milliseconds[at]!;
    }
    if (turns === Infinity) return undefined;
    const most = Math.max(changes, bits(set) - 1);
    return inOrder(this.objective, {
      regrips: turns,
      'tool-changes': most,
      distortion: 0,
      time: time + most * this.toolChange,
    });
  }

  /** Changes forced by chains of parts, and by grippers that some part cannot do without. */
  private leastChanges(parts: Int32Array, gripper: number): number {
    const grippers = this.table.grippers.length;
    const needed = new Set<number>();
    let chained = 0;
    for (const part of parts) {
      chained = Math.max(chained, this.chains[part * (grippers + 1) + gripper]!);
      if (this.only[part] !== ANY_GRIPPER) needed.add(this.only[part]!);
    }
    if (gripper < grippers) needed.add(gripper);
    return Math.max(chained, needed.size - 1);
  }
}

function bits(set: number): number {
  let count = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}

function subsetCosts({ grippers, ways, compare }: WayTable): SubsetCosts {
  const classOf = gripperClasses(grippers.length, ways);
  const classes = Math.min(grippers.length, MOST_CLASSES);
  const regrips = new Float64Array(ways.length << classes).fill(Infinity);
  const milliseconds = new Float64Array(ways.length << classes).fill(Infinity);
  ways.forEach((list, part) => {
    for (let set = 0; set < 1 << classes; set += 1) {
      const usable = list.filter(
        ({ gripper }) => gripper === ANY_GRIPPER || ((set >>> classOf[gripper]!) & 1) === 1,
      );
      if (usable.length === 0) continue;
      const best = usable.reduce((a, b) => (compare(b, a) < 0 ? b : a));
      regrips[(part << classes) | set] = best.regrips;
      milliseconds[(part << classes) | set] = best.milliseconds;
    }
  });
  return { classes, classOf, regrips, milliseconds };
}

/** The grippers that most parts can use have a class of their own; changes inside a class are not counted. */
function gripperClasses(grippers: number, ways: WayTable['ways']): readonly number[] {
  const uses = new Int32Array(grippers);
  for (const list of ways) for (const { gripper } of list) if (gripper !== ANY_GRIPPER) uses[gripper]! += 1;
  const ranked = Array.from(uses.keys()).sort((a, b) => uses[b]! - uses[a]! || a - b);
  const classOf = new Array<number>(grippers).fill(0);
  ranked.forEach((gripper, rank) => (classOf[gripper] = Math.min(rank, MOST_CLASSES - 1)));
  return classOf;
}

/**
 * For each part and each gripper on the arm, or none, the changes that the worst chain forces which begins with
 * the part and goes from each to one that must come later.
 */
function chainChanges(
  { grippers, ways }: WayTable,
  { before }: OrderMasks,
  order: readonly number[],
): Int32Array {
  const none = grippers.length;
  const width = none + 1;
  const from = new Int32Array(order.length * width);
  const after = new Int32Array(order.length * width);
  for (const part of [...order].reverse()) {
    for (const next of order) {
      if (!has(before[next]!, part)) continue;
      for (let gripper = 0; gripper < width; gripper += 1)
        after[part * width + gripper] = Math.max(
          after[part * width + gripper]!,
          from[next * width + gripper]!,
        );
    }
    for (let gripper = 0; gripper < width; gripper += 1) {
      const changes = ways[part]!.map((way) => {
        if (way.gripper === ANY_GRIPPER) return after[part * width + gripper]!;
        const change = gripper === none || gripper === way.gripper ? 0 : 1;
        return change + after[part * width + way.gripper]!;
      });
      from[part * width + gripper] = Math.min(...changes);
    }
  }
  return from;
}

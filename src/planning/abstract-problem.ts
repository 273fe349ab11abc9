import type { Dominance, PackedProblem, StateRow } from '../algorithms/solvers/packed-problem.js';
import { emptySet, has, type PartSet } from '../base/part-set.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { MOST_REGRIPS, MOST_SECONDS } from '../model/weldment-totals.js';
import type { AbstractWeldment } from '../model/weldment.js';
import type { Wish } from '../model/wish.js';
import { RemainingCost } from './abstract-bound.js';
import type { Ahead } from './abstract-chains.js';
import {
  anyOrder,
  mayJoin,
  orderFacts,
  orderFrom,
  orderMasks,
  partIds,
  type OrderMasks,
} from './abstract-facts.js';
import { everyMove, isEmpty, NeededMoves, type Moves } from './abstract-moves.js';
import { exchangeable, inOneOrder, propagated } from './abstract-symmetry.js';
import { flatTables, type FlatTables } from './abstract-tables.js';
import { ANY_GRIPPER, milliseconds, wayTable, type WayTable } from './abstract-ways.js';
import { OrderWishes } from './order-wishes.js';
import { termPlaces, type TermPlaces } from './term-places.js';

/** One part joins. */
export interface AbstractStep {
  readonly part: string;
  /** Null when whatever is on the arm will do. */
  readonly gripper: string | null;
  readonly regrips: number;
  /** Laid on its joints to parts in place. */
  readonly tacks: number;
  /** Handling, tool change and tacks together. */
  readonly milliseconds: number;
}

/** A part as an earlier plan brought it. */
export type WantedStep = Pick<AbstractStep, 'part' | 'gripper' | 'regrips'>;

/** 2^32 and 2^10: a time is kept in two words, in steps of 2^-10 ms. */
const WORD = 4_294_967_296;
const STEPS = 1024;

/**
 * The order of a weldment without shapes as a packed problem: an item is a part, a move a part in one of its ways. A
 * state is the parts in place and the gripper on the arm, and carried along are the parts that may join, and the regrips
 * and the time of the best ways of the parts ahead and their tacks, and what soft wishes cost in those ways. Parts and grippers are numbered by name.
 *
 * Dominance. Two states with the same parts in place differ by the gripper. What can be done from one can be done from
 * the other with the same parts in the same ways: until the first way that asks for a gripper both are alike, there the
 * other changes at most once where the first did not, and then both are the same again. So the surcharge is one tool
 * change and its time, in every term at most what the moves cost, hence in whichever order the terms are compared.
 * Where the other has no gripper mounted yet, the first way with a gripper costs no change at all and there is none.
 * The restrictions of `needed` keep the least cost from every state, so that what holds of it holds with them too.
 */
export class AbstractProblem implements PackedProblem {
  readonly terms: number;
  readonly layers: number;
  readonly items: number;
  readonly moves: number;
  readonly words: number;
  readonly keyWords: number;
  readonly dominance: Dominance;
  private readonly ids: readonly string[];
  private readonly masks: OrderMasks;
  private readonly table: WayTable;
  private readonly flat: FlatTables;
  private readonly places: TermPlaces;
  private readonly wishes: OrderWishes;
  private readonly toolChange: number;
  private readonly begins: PartSet;
  /** Undefined when there is no legal order at all. */
  private readonly remaining: RemainingCost | undefined;
  /** Undefined where all moves are asked for. */
  private readonly needed: NeededMoves | undefined;

  /** @throws RangeError where regrips or times may add up to more than `MOST_REGRIPS` or `MOST_SECONDS` */
  constructor(
    weldment: AbstractWeldment,
    objective: readonly ObjectiveTerm[],
    moves: Moves = 'all',
    wishes: readonly Wish[] = weldment.wishes ?? [],
  ) {
    this.ids = partIds(weldment);
    this.table = wayTable(weldment, objective, wishes);
    this.places = termPlaces(objective);
    this.toolChange = milliseconds(weldment.times.toolChange);
    const given = orderMasks(weldment, orderFacts(weldment, wishes));
    this.wishes = new OrderWishes(this.ids, this.places.wishes < 0 ? [] : wishes, given);
    const { named } = this.wishes;
    const ordered =
      moves === 'needed' ? inOneOrder(given, exchangeable(given, this.table.ways, named)) : given;
    const order = anyOrder(ordered);
    this.masks = order === undefined ? ordered : propagated(ordered, order);
    const { masks, table, ids } = this;
    this.flat = flatTables(weldment, ids, table, masks);
    if (!hasExactSums(this.flat, this.toolChange))
      throw new RangeError('Regrips or times add up to more than can be counted without rounding.');
    const { width } = this.flat;
    this.begins = emptySet(ids.length);
    ids.forEach((_, part) => {
      if (orderFrom(masks, part) !== undefined) this.begins[part >>> 5]! |= 1 << (part & 31);
    });
    if (order !== undefined)
      this.remaining = new RemainingCost(this.flat, masks, order, this.places, this.toolChange);
    this.terms = objective.length;
    this.layers = ids.length;
    this.items = ids.length;
    this.moves = this.flat.partOf.length;
    this.keyWords = width + 1;
    this.words = 2 * width + 4 + (this.places.wishes < 0 ? 0 : 1);
    this.dominance = this.gripperDominance();
    if (moves === 'needed') this.needed = new NeededMoves(this.flat, masks, this.begins, this.wishes);
  }

  itemOf(move: number): number {
    return this.flat.partOf[move]!;
  }

  start(state: StateRow): void {
    const { width, grippers } = this.flat;
    state.fill(0);
    state[width] = grippers;
    state.set(this.begins, width + 1);
    this.putAhead(state, sum(this.flat.bestRegrips), this.allTime());
    if (this.places.wishes >= 0) state[2 * width + 4] = sum(this.flat.bestPenalty);
  }

  movesFrom(state: StateRow, into: Int32Array): number {
    return this.needed === undefined ? everyMove(this.flat, state, into) : this.needed.write(state, into);
  }

  follow(state: StateRow, move: number, to: StateRow, cost: Float64Array): void {
    const { flat, places } = this;
    const { width, grippers } = flat;
    const part = flat.partOf[move]!;
    const mounted = state[width]!;
    const asked = flat.gripperOf[move]!;
    const gripper = asked === ANY_GRIPPER ? mounted : asked;
    const changes = mounted === grippers || mounted === gripper ? 0 : 1;
    const tacks = this.tackTime(part, state);
    cost[places.regrips] = flat.regripsOf[move]!;
    cost[places.changes] = changes;
    cost[places.time] = flat.millisecondsOf[move]! + tacks + changes * this.toolChange;
    const begun = !isEmpty(state, width);
    if (places.wishes >= 0)
      cost[places.wishes] = flat.penaltyOf[move]! + this.wishes.cost(part, state, begun);
    to.set(state);
    to[part >>> 5]! |= 1 << (part & 31);
    to[width] = gripper;
    this.updateJoining(to, part, begun);
    const regrips = state[2 * width + 1]! - flat.bestRegrips[part]!;
    this.putAhead(to, regrips, this.timeAhead(state) - tacks - flat.bestMilliseconds[part]!);
    if (places.wishes >= 0) to[2 * width + 4] = state[2 * width + 4]! - flat.bestPenalty[part]!;
  }

  bound(state: StateRow, layer: number, into: Float64Array): void {
    const { width } = this.flat;
    if (layer === this.layers) into.fill(0, 0, this.terms);
    else if (this.remaining === undefined) into.fill(Infinity, 0, this.terms);
    else this.remaining.least(state, state[width]!, this.ahead(state), into);
  }

  private ahead(state: StateRow): Ahead {
    const { width } = this.flat;
    const { wishes, places } = this;
    return {
      regrips: state[2 * width + 1]!,
      time: this.timeAhead(state),
      penalty: places.wishes < 0 ? 0 : state[2 * width + 4]! + wishes.least(state, !isEmpty(state, width)),
    };
  }

  /**
   * A legal path that takes parts in a given order as far as they may join so, each with the gripper and regrips given where that
   * is still among its ways, else in its best way; undefined where it comes to an end.
   */
  pathLike(wanted: readonly WantedStep[]): readonly number[] | undefined {
    const { flat, ids } = this;
    const order = [...new Set([...wanted.map(({ part }) => part), ...ids])];
    const asked = new Map(wanted.map((step) => [step.part, step]));
    const into = new Int32Array(this.moves);
    const cost = new Float64Array(this.terms);
    const path: number[] = [];
    let state: StateRow = new Uint32Array(this.words);
    this.start(state);
    while (path.length < this.layers) {
      const legal = [...into.subarray(0, everyMove(flat, state, into))];
      const part = order.find((id) => legal.some((move) => ids[flat.partOf[move]!] === id));
      if (part === undefined) return undefined;
      const own = legal.filter((move) => ids[flat.partOf[move]!] === part);
      const step = asked.get(part);
      const same = own.find((move) => this.isStep(move, step));
      const move = same ?? own.reduce((a, b) => (flat.rankOf[b]! < flat.rankOf[a]! ? b : a));
      const to = new Uint32Array(this.words);
      this.follow(state, move, to, cost);
      path.push(move);
      state = to;
    }
    return path;
  }

  private isStep(move: number, step: WantedStep | undefined): boolean {
    const { gripperOf, regripsOf } = this.flat;
    const gripper = this.table.grippers[gripperOf[move]!] ?? null;
    return step !== undefined && gripper === step.gripper && regripsOf[move] === step.regrips;
  }

  /** The steps of a legal path. */
  steps(moves: readonly number[]): readonly AbstractStep[] {
    const { flat, ids } = this;
    const { grippers } = this.table;
    let state: StateRow = new Uint32Array(this.words);
    const cost = new Float64Array(this.terms);
    this.start(state);
    return moves.map((move) => {
      const part = flat.partOf[move]!;
      let tacks = 0;
      for (let at = flat.firstJoint[part]!; at < flat.firstJoint[part + 1]!; at += 1)
        if (has(state, flat.jointTo[at]!)) tacks += flat.jointTacks[at]!;
      const to = new Uint32Array(this.words);
      this.follow(state, move, to, cost);
      state = to;
      return {
        part: ids[part]!,
        gripper: grippers[flat.gripperOf[move]!] ?? null,
        regrips: flat.regripsOf[move]!,
        tacks,
        milliseconds: cost[this.places.time]!,
      };
    });
  }

  /** The name of a part. */
  nameOf(item: number): string {
    return this.ids[item]!;
  }

  private updateJoining(to: StateRow, part: number, begun: boolean): void {
    const { masks, flat } = this;
    const { width, parts, firstWaiting, waiting } = flat;
    const set = (other: number): void => {
      if (!has(to, other) && mayJoin(masks, other, to)) to[width + 1 + (other >>> 5)]! |= 1 << (other & 31);
    };
    if (begun) {
      to[width + 1 + (part >>> 5)]! &= ~(1 << (part & 31));
      for (let at = firstWaiting[part]!; at < firstWaiting[part + 1]!; at += 1) set(waiting[at]!);
      return;
    }
    to.fill(0, width + 1, 2 * width + 1);
    for (let other = 0; other < parts; other += 1) set(other);
  }

  private tackTime(part: number, state: StateRow): number {
    const { firstJoint, jointTo, jointMilliseconds } = this.flat;
    let time = 0;
    for (let at = firstJoint[part]!; at < firstJoint[part + 1]!; at += 1)
      if (has(state, jointTo[at]!)) time += jointMilliseconds[at]!;
    return time;
  }

  /** Of the best ways of all parts, and of all tacks; every joint stands in two lists. */
  private allTime(): number {
    return sum(this.flat.bestMilliseconds) + sum(this.flat.jointMilliseconds) / 2;
  }

  private timeAhead(state: StateRow): number {
    const at = 2 * this.flat.width + 2;
    return (state[at]! * WORD + state[at + 1]!) / STEPS;
  }

  private putAhead(state: StateRow, regrips: number, time: number): void {
    const at = 2 * this.flat.width + 1;
    const steps = time * STEPS;
    state[at] = regrips;
    state[at + 1] = Math.floor(steps / WORD);
    state[at + 2] = steps % WORD;
  }

  private gripperDominance(): Dominance {
    const { places, toolChange } = this;
    const { width, grippers } = this.flat;
    return {
      words: width,
      surcharge(a, b, into) {
        const changes = a[width] === grippers || a[width] === b[width] ? 0 : 1;
        into[places.regrips] = 0;
        into[places.changes] = changes;
        into[places.time] = changes * toolChange;
        if (places.wishes >= 0) into[places.wishes] = 0;
      },
    };
  }
}

const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);

/** Whether whatever a plan may cost stays exact and fits into a state. */
function hasExactSums(flat: FlatTables, toolChange: number): boolean {
  const most = (of: Float64Array): number => {
    let total = 0;
    for (let part = 0; part < flat.parts; part += 1)
      total += of
        .subarray(flat.firstMove[part], flat.firstMove[part + 1])
        .reduce((a, b) => Math.max(a, b), 0);
    return total;
  };
  const time = most(flat.millisecondsOf) + sum(flat.jointMilliseconds) / 2 + flat.parts * toolChange;
  return most(flat.regripsOf) <= MOST_REGRIPS && time <= 1000 * MOST_SECONDS;
}

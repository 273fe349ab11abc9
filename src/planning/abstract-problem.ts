import { unreachableCost, type Cost } from '../algorithms/cost.js';
import type { SearchProblem, Transition } from '../algorithms/problem.js';
import { emptySet, has, setKey, withMember, type PartSet } from '../base/part-set.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { RemainingCost } from './abstract-bound.js';
import { anyOrder, mayJoin, orderFacts, orderFrom, orderMasks, partIds } from './abstract-facts.js';
import type { OrderMasks } from './abstract-facts.js';
import { ANY_GRIPPER, milliseconds, wayTable, type CandidateWay, type WayTable } from './abstract-ways.js';
import { inOrder } from './objective.js';

/** What the rest of a tack-up depends on. Parts and grippers are numbers in the order of their names. */
export interface AbstractState {
  readonly inPlace: PartSet;
  readonly count: number;
  /** Gripper on the arm; the number of grippers while any may be mounted beforehand. */
  readonly gripper: number;
  /** Milliseconds of the tacks not yet laid; follows from the parts in place. */
  readonly tacksAhead: number;
}

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

type Move = Transition<AbstractState, AbstractStep>;

interface TackedTo {
  readonly other: number;
  readonly tacks: number;
  readonly milliseconds: number;
}

/**
 * - `all`: every part that may join, in every way worth looking at;
 * - `needed`: where a part may join in its best way without a change of gripper, only that. Whatever a plan does
 *   next, it can do after this move too, and it saves the part later on: some best plan goes this way.
 */
export type Moves = 'all' | 'needed';

/** The order of a weldment without shapes as a search problem: one part joins with each transition. */
export class AbstractProblem implements SearchProblem<AbstractState, AbstractStep> {
  readonly terms: number;
  readonly start: AbstractState;
  readonly layers: number;
  private readonly ids: readonly string[];
  private readonly masks: OrderMasks;
  private readonly table: WayTable;
  private readonly begins: readonly boolean[];
  private readonly tackedTo: readonly (readonly TackedTo[])[];
  private readonly toolChange: number;
  /** Undefined when there is no legal order at all. */
  private readonly remaining: RemainingCost | undefined;

  constructor(
    weldment: AbstractWeldment,
    private readonly objective: readonly ObjectiveTerm[],
    private readonly moves: Moves = 'all',
  ) {
    this.ids = partIds(weldment);
    this.layers = this.ids.length;
    this.terms = objective.length;
    this.masks = orderMasks(weldment, orderFacts(weldment));
    this.table = wayTable(weldment, objective);
    this.begins = this.ids.map((_, part) => orderFrom(this.masks, part) !== undefined);
    this.tackedTo = tackedTo(weldment, this.ids);
    this.toolChange = milliseconds(weldment.times.toolChange);
    const order = anyOrder(this.masks);
    if (order !== undefined)
      this.remaining = new RemainingCost(this.table, this.masks, order, objective, this.toolChange);
    // Every joint stands in two lists.
    const tacksAhead = this.tackedTo.flat().reduce((sum, joint) => sum + joint.milliseconds / 2, 0);
    const gripper = this.table.grippers.length;
    this.start = { inPlace: emptySet(this.layers), count: 0, gripper, tacksAhead };
  }

  layer(state: AbstractState): number {
    return state.count;
  }

  key(state: AbstractState): string {
    return `${setKey(state.inPlace)}|${state.gripper}`;
  }

  *transitions(state: AbstractState): Iterable<Move> {
    const enough = this.moves === 'needed' ? this.bestWithoutChange(state) : undefined;
    if (enough !== undefined) return yield enough;
    for (let part = 0; part < this.layers; part += 1) {
      if (!this.mayCome(part, state)) continue;
      for (const way of this.table.ways[part]!) yield this.join(part, way, state);
    }
  }

  bound({ inPlace, gripper, tacksAhead }: AbstractState): Cost {
    return this.remaining?.least(inPlace, gripper, tacksAhead) ?? unreachableCost(this.terms);
  }

  private mayCome(part: number, { inPlace, count }: AbstractState): boolean {
    if (count === 0) return this.begins[part]!;
    return !has(inPlace, part) && mayJoin(this.masks, part, inPlace);
  }

  /** Not for the first part: which one begins decides what may follow. */
  private bestWithoutChange(state: AbstractState): Move | undefined {
    if (state.count === 0) return undefined;
    const { ways, best, compare } = this.table;
    for (let part = 0; part < this.layers; part += 1) {
      if (!this.mayCome(part, state)) continue;
      for (const way of ways[part]!) {
        const fits = way.gripper === ANY_GRIPPER || way.gripper === state.gripper;
        if (fits && compare(way, best[part]!) === 0) return this.join(part, way, state);
      }
    }
    return undefined;
  }

  private join(part: number, way: CandidateWay, state: AbstractState): Move {
    const none = this.table.grippers.length;
    const gripper = way.gripper === ANY_GRIPPER ? state.gripper : way.gripper;
    const changes = state.gripper === none || state.gripper === gripper ? 0 : 1;
    let tacks = 0;
    let tackTime = 0;
    for (const joint of this.tackedTo[part]!) {
      if (!has(state.inPlace, joint.other)) continue;
      tacks += joint.tacks;
      tackTime += joint.milliseconds;
    }
    const { regrips } = way;
    const time = way.milliseconds + tackTime + changes * this.toolChange;
    return {
      to: {
        inPlace: withMember(state.inPlace, part),
        count: state.count + 1,
        gripper,
        tacksAhead: state.tacksAhead - tackTime,
      },
      step: {
        part: this.ids[part]!,
        gripper: this.table.grippers[way.gripper] ?? null,
        regrips,
        tacks,
        milliseconds: time,
      },
      cost: inOrder(this.objective, { regrips, 'tool-changes': changes, distortion: 0, time }),
    };
  }
}

/** For each part its joints, each with the part at the other end. */
function tackedTo({ joints, times }: AbstractWeldment, ids: readonly string[]): TackedTo[][] {
  const index = new Map(ids.map((id, i) => [id, i]));
  const lists: TackedTo[][] = ids.map(() => []);
  for (const { between, tacks } of joints) {
    const [a, b] = [index.get(between[0]), index.get(between[1])];
    if (a === undefined || b === undefined || a === b) continue;
    const time = milliseconds(tacks * times.tack);
    lists[a]!.push({ other: b, tacks, milliseconds: time });
    lists[b]!.push({ other: a, tacks, milliseconds: time });
  }
  return lists;
}

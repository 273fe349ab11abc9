import type {
  Candidate,
  Completion,
  Cost,
  MayPay,
  Refused,
  SearchProblem,
  Transition,
} from '../algorithms/problem.js';
import { has, setKey, setOf, type PartSet } from '../base/part-set.js';
import { compareVectors } from '../base/order.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import { siteId } from '../facts/tack-sites.js';
import type { Refusal } from '../model/verdict.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { afterRobots } from './after-robots.js';
import { costOf, type CompleteOrder, type OrderCompleter } from './complete.js';
import type { DistortionProxy } from './distortion-proxy.js';
import { asksNoMore, type Demand, type MoreAsked } from './demand.js';
import { inOrder, planObjective, type NamedCost } from './objective.js';
import { armOf, handsAtStart, handsKey } from './hands.js';
import { holdKey } from './held-grip.js';
import { everyAngle, type AtAngle } from './index-angles.js';
import { fewestChanges, LeastToCome } from './least-to-come.js';
import { OrderBounds } from './order-bounds.js';
import { OrderRelations } from './order-relations.js';
import { afterHand, startState, type OrderState } from './order-state.js';
import {
  besideKept,
  openApproaches,
  usualHolding,
  type Asked,
  type HoldingOf,
  type OneArm,
  type RobotMove,
} from './part-moves.js';
import { type ManualDraft, type RobotDraft, type StageDraft } from './stage-draft.js';
import { StageWishes } from './stage-wishes.js';
import { Paying } from './paying.js';
import { Promises } from './promises.js';
import { joinedBy } from './tack-layout.js';
import { armsAndGrippers, changesFreely, gripsOf, waysOf } from './ways.js';

/** What a search goes by. */
export interface OrderGuide {
  /** Terms in their order; those of the settings when left out. */
  readonly objective?: readonly ObjectiveTerm[] | undefined;
  /** What parts cost at least, where that was worked out for a problem of the same facts before. */
  readonly bounds?: OrderBounds | undefined;
  /** Stands for the distortion; without it no move costs any. */
  readonly proxy?: DistortionProxy | undefined;
}

/** Which moves of a part are looked for: with what is asked beside what must be met first, and only those that may pay. */
interface Sought {
  readonly more?: MoreAsked;
  readonly mayPay?: MayPay | undefined;
}

/** The reasons against a part in a state, as they were met. */
export type RefusalListener = (part: number, inPlace: PartSet, refusal: Refusal) => void;

/**
 * The order of a weldment as a search problem: one part joins with each transition. Its costs are a relaxation: a
 * part counts as carried when it is among others that are fixed. Their time is that of the programs: the handling
 * robot waits where the completing tacks of one part outlast the fetching of the next.
 */
export class OrderProblem implements SearchProblem<OrderState, StageDraft, CompleteOrder> {
  readonly terms: number;
  readonly start: OrderState;
  readonly layers: number;
  private readonly objective: readonly ObjectiveTerm[];
  private readonly proxy: DistortionProxy | undefined;
  private readonly angles: readonly AtAngle[];
  private readonly least: LeastToCome;
  private readonly relations: OrderRelations;
  private readonly promises: Promises;
  private readonly wishes: StageWishes;
  /** The objective without the wishes: two ways that are asked for alike are compared by it. */
  private readonly unwished: readonly ObjectiveTerm[];
  /** Whether a part that does not join by usual moves may join at another angle of the table, or held on until the next. */
  private readonly hasOtherMoves: boolean;
  /** Whether every gripper can be changed for every other. */
  private readonly changesAnywhere: boolean;

  constructor(
    private readonly facts: Facts,
    private readonly completer: OrderCompleter,
    private readonly onRefusal: RefusalListener = () => undefined,
    private readonly thorough = false,
    { objective = planObjective(facts), proxy, bounds }: OrderGuide = {},
  ) {
    const { scene } = facts;
    const { parts, cell } = scene;
    this.layers = parts.length;
    this.objective = objective;
    this.unwished = objective.filter((term) => term !== 'wishes');
    this.wishes = new StageWishes(facts);
    this.proxy = proxy;
    this.terms = objective.length;
    this.start = startState(this.layers, handsAtStart(cell.handlers));
    this.angles = everyAngle(facts);
    this.hasOtherMoves = this.angles.length > 1 || cell.handlers.length > 1;
    this.relations = new OrderRelations(facts);
    this.promises = new Promises(facts);
    this.least = new LeastToCome(
      objective,
      cell.handlers,
      bounds ?? new OrderBounds(facts, this.relations),
      this.wishes,
    );
    this.changesAnywhere = cell.handlers.every((robot) => changesFreely(facts, robot, cell.grippers));
  }

  layer(state: OrderState): number {
    return state.count;
  }

  key(state: OrderState): string {
    const tacks = state.laid.map(siteId).sort().join(' ');
    const kept = state.kept ? `${state.kept.part} ${state.kept.grip.id}` : '-';
    const remedied = `${setKey(state.located)}|${setKey(state.seated)}`;
    const open = `${state.first}|${handsKey(state.hands)}|${kept}|${state.pending}|${state.angle}`;
    return `${setKey(state.inPlace)}|${open}|${tacks}|${remedied}`;
  }

  *transitions(state: OrderState): Iterable<Transition<OrderState, StageDraft>> {
    for (const { moves } of this.candidates(state)) yield* moves();
  }

  /** One candidate for each part that may come. */
  candidates(state: OrderState): readonly Candidate<OrderState, StageDraft>[] {
    const { parts } = this.facts.scene;
    return parts.flatMap((_, part) =>
      has(state.inPlace, part) || !this.relations.allow(part, state.inPlace) || !this.mayCome(part, state)
        ? []
        : {
            id: part,
            promise: this.promises.of(part, state.inPlace),
            moves: (mayPay) => this.moves(part, state, { mayPay }),
          },
    );
  }

  /** The legal moves of one part, those first that meet what `more` makes of what must be met. */
  *joining(part: number, state: OrderState, more?: MoreAsked): Iterable<Transition<OrderState, StageDraft>> {
    if (!this.relations.allow(part, state.inPlace) || !this.mayCome(part, state)) return;
    yield* this.moves(part, state, more ? { more } : {});
  }

  private *moves(part: number, state: OrderState, sought: Sought): ReturnType<OrderProblem['joining']> {
    const { manual } = this.facts.scene.parts[part]!.part;
    if (manual) yield* this.byHand(part, manual, state);
    else yield* this.joins(part, state, sought);
  }

  /** A part must have a footing; while another is still held, it must be one that is joined to that. */
  private mayCome(part: number, { inPlace, kept }: OrderState): boolean {
    if (kept) return joinedBy(this.facts, part, setOf(this.layers, [kept.part])).length > 0;
    return this.relations.hasFooting(part, inPlace);
  }

  bound(state: OrderState): Cost {
    return this.least.from(state);
  }

  /** Costs the order with the same estimate of distortion as its moves, which the whole order does not lower. */
  complete(drafts: readonly StageDraft[]): Completion<CompleteOrder> {
    const said = this.completer.complete(drafts);
    if (said.kind === 'refused') return said;
    const parts = drafts.map(({ part }) => part);
    const distortion = drafts.reduce((sum, draft, i) => {
      const laid = drafts.slice(0, i).flatMap(({ tacks }) => tacks.map(({ site }) => site));
      return (
        sum + this.estimated(draft, { inPlace: setOf(this.layers, parts.slice(0, i)), first: parts[0], laid })
      );
    }, 0);
    return { ...said, cost: inOrder(this.objective, { ...costOf(said.result), distortion }) };
  }

  refusedAlready(drafts: readonly StageDraft[]): Refused | undefined {
    return this.completer.refusedAlready(drafts);
  }

  private estimated(draft: StageDraft, state: Pick<OrderState, 'inPlace' | 'first' | 'laid'>): number {
    const { inPlace, first, laid } = state;
    return this.proxy?.of(draft, { inPlace, first: first ?? draft.part, laid }) ?? 0;
  }

  /**
   * The ways of a part at the index angle at which the table is, and at every other one only where there are none, unless
   * the search is thorough; of the first part, and of one that no arm secures alone, at every angle there is for it.
   */
  private *joins(
    part: number,
    state: OrderState,
    sought: Sought,
  ): Iterable<Transition<OrderState, StageDraft>> {
    const angles = this.anglesFor(part, state);
    let joined = false;
    for (const at of angles) {
      if (joined && state.angle !== undefined && !this.thorough) return;
      const paying = new Paying(sought.mayPay);
      for (const transition of this.joinsAt(at, part, state, paying, sought.more)) {
        joined = true;
        yield transition;
      }
      // Whether anything else is looked at rests on whether the part joins at all, be it by a move that does not pay.
      if (!joined && paying.leftOut && this.hasOtherMoves)
        joined = this.joinsAt(at, part, state, new Paying(), sought.more).next().done !== true;
    }
    if (!joined) for (const at of angles) yield* this.keptOn(at, part, state);
  }

  /** A part that a person sets, when no robot holds anything; the table stays where it is, at the first at every angle. */
  private *byHand(
    part: number,
    { seconds }: ManualDraft['manual'],
    state: OrderState,
  ): Iterable<Transition<OrderState, StageDraft>> {
    const { inPlace, first, kept, angle } = state;
    if (kept) return;
    for (const { facts, byHand } of this.angles) {
      if (angle !== undefined && facts.angle !== angle) continue;
      for (const { tacks: asked } of this.wishes.demands(part, inPlace)) {
        const setting = byHand.set({ part, inPlace, clamped: first, asked });
        if (!setting.ok) {
          this.onRefusal(part, inPlace, setting.error);
          continue;
        }
        const draft: ManualDraft = { angle: facts.angle, part, manual: { seconds }, ...setting.value };
        const { to, milliseconds } = afterHand(state, draft);
        const distortion = this.estimated(draft, state);
        const wishes = this.wishes.cost(draft, inPlace, first !== undefined);
        const cost = { regrips: 0, 'tool-changes': 0, distortion, time: milliseconds, wishes };
        yield { to, step: draft, cost: inOrder(this.objective, cost) };
      }
    }
  }

  /** Where a part may join: at the angle at which the table is first; at others only if it can turn, with nothing held. */
  private anglesFor(part: number, { angle, kept, inPlace }: OrderState): readonly AtAngle[] {
    if (angle === undefined) return this.angles;
    const here = this.angles.filter(({ facts }) => facts.angle === angle);
    if (kept || this.angles.length === 1) return here;
    const blocked = this.facts.turnBlocked(inPlace);
    if (blocked) this.onRefusal(part, inPlace, blocked);
    return blocked ? here : [...here, ...this.angles.filter((at) => !here.includes(at))];
  }

  /**
   * The best legal way of a part for each arm and each gripper that may be on it afterwards; and where soft wishes are about
   * its stage, the best that keeps each set of them too.
   */
  private *joinsAt(
    at: AtAngle,
    part: number,
    state: OrderState,
    paying: Paying,
    more: MoreAsked | undefined,
  ): Generator<RobotMove> {
    const known: { readonly key: string; readonly move: RobotMove; readonly by: Demand }[] = [];
    const demands = this.wishes.demands(part, state.inPlace);
    if (more && demands.length > 0)
      yield* this.bestWays(at, part, state, this.armsFor(state), more(demands[0]!), paying).values();
    for (const demand of demands) {
      // What is best among those that keep some of these wishes is best among those that keep all, if it does.
      const met = known.filter(
        ({ move, by }) => asksNoMore(by, demand) && this.wishes.meets(demand, move.step),
      );
      const arms = this.armsFor(state).filter((arm) => met.every(({ key }) => key !== arm.key));
      for (const [key, move] of this.bestWays(at, part, state, arms, demand, paying)) {
        known.push({ key, move, by: demand });
        yield move;
        if (this.thorough) yield* this.dearer(at, state, move.step, demand);
      }
    }
  }

  private bestWays(
    at: AtAngle,
    part: number,
    state: OrderState,
    arms: readonly OneArm[],
    demand: Demand,
    paying: Paying,
  ): ReadonlyMap<string, RobotMove> {
    const regripsFirst = this.unwished[0] === 'regrips';
    const best = new Map<string, RobotMove>();
    if (arms.length === 0) return best;
    const refused = new Set<string>();
    const approaches = openApproaches(at, part, state);
    for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1) {
      for (const one of demand.allowsRegrips(regrips) ? arms : []) {
        const { key, arm, gripper } = one;
        const known = best.get(key);
        const fewest = fewestChanges(one);
        if (known && (regripsFirst || known.step.way.changes === fewest)) continue;
        if (this.isWorse(state, { regrips, 'tool-changes': fewest, distortion: 0, time: 0 }, best.values()))
          continue;
        if (!paying.admits(this.least.after(state, part, one, regrips))) continue;
        const asked = { part, regrips, gripper, arm, refused, approaches, demand };
        const found = this.firstLegal(at, state, asked, usualHolding(at, part, state, demand));
        if (found && (!known || compareVectors(this.plain(found), this.plain(known)) < 0))
          best.set(key, found);
      }
      if (best.size > 0 && regripsFirst && this.changesAnywhere) break;
      if (arms.every(({ key }) => best.has(key))) break;
    }
    return best;
  }

  /** What a move costs, broken wishes aside. */
  private readonly plain = ({ cost }: Pick<RobotMove, 'cost'>): Cost =>
    cost.filter((_, i) => this.objective[i] !== 'wishes');

  /** Every arm that is free with every gripper that may be on it after the next part. */
  private armsFor({ hands, kept }: OrderState): readonly OneArm[] {
    const { handlers } = this.facts.scene.cell;
    return armsAndGrippers(this.facts).flatMap(({ robot, gripper }) =>
      robot === kept?.grip.robot
        ? []
        : [{ key: `${robot.id} ${gripper}`, arm: armOf(hands, handlers, robot), gripper }],
    );
  }

  /** A part that no arm secures alone, held on until the next part is tacked to it. */
  private *keptOn(
    at: AtAngle,
    part: number,
    state: OrderState,
  ): Iterable<Transition<OrderState, StageDraft>> {
    const { inPlace, first, kept, count } = state;
    const several = this.facts.scene.cell.handlers.length > 1;
    if (!several || kept || first === undefined || count + 1 >= this.layers) return;
    const approaches = openApproaches(at, part, state);
    for (const demand of this.wishes.demands(part, inPlace))
      if (demand.held !== false) yield* this.keptAsked(at, state, { part, approaches, demand });
  }

  private *keptAsked(
    at: AtAngle,
    state: OrderState,
    { part, approaches, demand }: Pick<Asked, 'part' | 'approaches' | 'demand'>,
  ): Iterable<RobotMove> {
    const newcomer = { part, inPlace: state.inPlace, clamped: state.first, asked: demand.tacks };
    const refused = new Set<string>();
    const found = new Set<string>();
    for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1)
      for (const { key, arm, gripper } of demand.allowsRegrips(regrips) ? this.armsFor(state) : []) {
        if (found.has(key)) continue;
        const asked = { part, regrips, gripper, arm, refused, approaches, demand };
        const move = this.firstLegal(at, state, asked, (way) => at.holdings.keeping(newcomer, way));
        if (!move) continue;
        found.add(key);
        yield move;
      }
  }

  /** After the last part only the cost counts, not the gripper: whether no way that costs at least this can be best. */
  private isWorse(state: OrderState, least: NamedCost, found: Iterable<RobotMove>): boolean {
    if (this.thorough || state.count + 1 < this.layers) return false;
    const bound = inOrder(this.unwished, least);
    return [...found].some((move) => compareVectors(bound, this.plain(move)) >= 0);
  }

  /** The same part held although it might stand, held for more tacks, or beside another that is held. */
  private *dearer(
    { holdings }: AtAngle,
    state: OrderState,
    draft: RobotDraft,
    { tacks: asked, held: wished }: Demand,
  ): Iterable<RobotMove> {
    if (state.first === undefined || state.kept) return;
    const newcomer = { part: draft.part, inPlace: state.inPlace, clamped: state.first, asked };
    const { way } = draft;
    if (wished !== false) {
      const held = draft.held ? undefined : holdings.held(newcomer, way);
      if (held?.ok === true) yield this.transition(state, { ...draft, ...held.value });
      const strongest = holdings.strongest(newcomer, way);
      if (strongest.ok) yield this.transition(state, { ...draft, ...strongest.value });
    }
    if (draft.held || draft.alsoHeld) return;
    for (const beside of holdings.beside(newcomer, way))
      yield this.transition(state, { ...draft, ...beside });
  }

  private firstLegal(
    at: AtAngle,
    state: OrderState,
    { part, regrips, gripper, arm, refused, approaches, demand }: Asked,
    holdingOf: HoldingOf,
  ): RobotMove | undefined {
    const { inPlace, kept } = state;
    for (const found of waysOf(at.facts, part, inPlace, arm, regrips, gripper, {
      ...{ refused, approaches },
      allows: demand.allowsGrip,
    })) {
      const beside = kept && besideKept(at, part, inPlace, found, kept);
      if (kept && !beside) continue;
      const way = beside ? beside.way : found;
      const fitUp = this.facts.fitUp(part, gripsOf(way), way.chain.spot, { ...state, parts: inPlace });
      if (!fitUp.ok) {
        this.onRefusal(part, inPlace, fitUp.error);
        continue;
      }
      const holding = holdingOf(way, beside?.kept);
      const { angle } = at.facts;
      if (holding.ok)
        return this.transition(state, { angle, part, way, fitUp: fitUp.value, ...holding.value });
      // Hold and tacks depend on the grip and on how the arm stands, not on how the part got there.
      refused.add(holdKey({ grip: way.grip, motion: way.place }));
      this.onRefusal(part, inPlace, holding.error);
    }
    return undefined;
  }

  private transition(state: OrderState, draft: RobotDraft): RobotMove {
    const { to, milliseconds } = afterRobots(this.facts, state, draft);
    const { regrips, changes } = draft.way;
    const wishes = this.wishes.cost(draft, state.inPlace, state.first !== undefined);
    const distortion = this.estimated(draft, state);
    const cost = { regrips, 'tool-changes': changes, distortion, time: milliseconds, wishes };
    return { to, step: draft, cost: inOrder(this.objective, cost) };
  }
}

import type { Completion, Cost, SearchProblem, Transition } from '../algorithms/problem.js';
import { emptySet, has, setKey, withMember, type PartSet } from '../base/part-set.js';
import { straightTime } from '../kinematics/travel.js';
import { releaseTime } from '../model/cell.js';
import { compareVectors } from '../base/order.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import { siteId, type TackSite } from '../facts/tack-sites.js';
import type { Remedy } from '../model/plan.js';
import type { Refusal } from '../model/verdict.js';
import type { CompleteOrder, OrderCompleter } from './complete.js';
import { inOrder, type NamedCost } from './objective.js';
import type { Approach } from '../facts/approaches.js';
import { Holdings } from './holding.js';
import { OrderRelations } from './order-relations.js';
import type { StageDraft } from './stage-draft.js';
import { stageSteps } from './stage-steps.js';
import { totalMilliseconds } from './steps.js';
import { canBring, gripsOf, isOpen, leastRegrips, waysOf } from './ways.js';

/** What the rest of a tack-up depends on. */
export interface OrderState {
  readonly inPlace: PartSet;
  readonly count: number;
  /** The part that stands on the table and is clamped; undefined before the first. */
  readonly first: number | undefined;
  /** Gripper on the arm; undefined while any may be mounted beforehand. */
  readonly gripper: string | undefined;
  /** Where tacks have been laid so far. */
  readonly laid: readonly TackSite[];
  /** Parts that were located at the regrip table, and those that were seated. */
  readonly located: PartSet;
  readonly seated: PartSet;
  /** Completing tacks that go on while the handling robot fetches the next part, milliseconds. */
  readonly pending: number;
}

const withWhere = (parts: PartSet, { part, fitUp }: StageDraft, remedy: Remedy): PartSet =>
  fitUp.remedies.includes(remedy) ? withMember(parts, part) : parts;

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
  private readonly holdings: Holdings;
  private readonly least: readonly number[];
  private readonly forced: readonly (string | undefined)[];
  private readonly leastTime: readonly number[];
  private readonly relations: OrderRelations;
  /** Whether every gripper can be changed for every other. */
  private readonly changesAnywhere: boolean;

  constructor(
    private readonly facts: Facts,
    private readonly completer: OrderCompleter,
    private readonly onRefusal: RefusalListener = () => undefined,
    private readonly thorough = false,
  ) {
    const { scene, settings } = facts;
    const { parts } = scene;
    this.layers = parts.length;
    this.terms = settings.objective.length;
    const nothing = emptySet(this.layers);
    this.start = {
      inPlace: nothing,
      count: 0,
      first: undefined,
      gripper: undefined,
      laid: [],
      located: nothing,
      seated: nothing,
      pending: 0,
    };
    this.holdings = new Holdings(facts);
    this.relations = new OrderRelations(facts);
    this.least = parts.map((_, part) => this.fewestRegrips(part));
    this.leastTime = parts.map((_, part) => this.leastMilliseconds(part));
    this.forced = parts.map((_, part) => this.onlyGripper(part));
    this.changesAnywhere = scene.cell.grippers.every((gripper) => facts.stand(gripper) !== undefined);
  }

  layer(state: OrderState): number {
    return state.count;
  }

  key(state: OrderState): string {
    const tacks = state.laid.map(siteId).sort().join(' ');
    const remedied = `${setKey(state.located)}|${setKey(state.seated)}`;
    return `${setKey(state.inPlace)}|${state.first}|${state.gripper}|${state.pending}|${tacks}|${remedied}`;
  }

  *transitions(state: OrderState): Iterable<Transition<OrderState, StageDraft>> {
    for (let part = 0; part < this.layers; part += 1) {
      if (has(state.inPlace, part)) continue;
      if (!this.relations.allow(part, state.inPlace) || !this.relations.hasFooting(part, state.inPlace))
        continue;
      yield* this.joins(part, state);
    }
  }

  bound(state: OrderState): Cost {
    let regrips = 0;
    let handling = 0;
    const needed = new Set<string>();
    for (let part = 0; part < this.layers; part += 1) {
      if (has(state.inPlace, part)) continue;
      regrips += this.least[part]!;
      handling += this.leastTime[part]!;
      const forced = this.forced[part];
      if (forced !== undefined) needed.add(forced);
    }
    const changes =
      state.gripper === undefined
        ? Math.max(0, needed.size - 1)
        : [...needed].filter((g) => g !== state.gripper).length;
    return inOrder(this.facts.settings.objective, { regrips, 'tool-changes': changes, time: handling });
  }

  complete(drafts: readonly StageDraft[]): Completion<CompleteOrder> {
    return this.completer.complete(drafts);
  }

  /** The best legal way of a part for each gripper that may be on the arm afterwards. */
  private *joins(part: number, state: OrderState): Iterable<Transition<OrderState, StageDraft>> {
    const grippers = this.facts.scene.cell.grippers.map(({ id }) => id);
    const { objective } = this.facts.settings;
    const regripsFirst = objective[0] === 'regrips';
    const best = new Map<string, Transition<OrderState, StageDraft>>();
    const refused = new Set<number>();
    const approaches = this.openApproaches(part, state);
    for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1) {
      for (const gripper of grippers) {
        const known = best.get(gripper);
        const fewest = state.gripper === undefined || state.gripper === gripper ? 0 : 1;
        if (known && (regripsFirst || known.step.way.changes === fewest)) continue;
        if (this.isWorse(state, { regrips, 'tool-changes': fewest, time: 0 }, best.values())) continue;
        const found = this.firstLegal(part, state, regrips, gripper, refused, approaches);
        if (found && (!known || compareVectors(found.cost, known.cost) < 0)) best.set(gripper, found);
      }
      if (best.size > 0 && regripsFirst && this.changesAnywhere) break;
      if (grippers.every((gripper) => best.has(gripper))) break;
    }
    for (const transition of best.values()) {
      yield transition;
      if (this.thorough) yield* this.dearer(state, transition.step);
    }
  }

  /** Ways into place that no part in place blocks and that do not run over the metal of a tack. */
  private openApproaches(part: number, { inPlace, laid }: OrderState): readonly Approach[] {
    const { facts } = this;
    return facts
      .approaches(part)
      .filter(
        (approach) =>
          isOpen(approach, inPlace) && !laid.some((site) => facts.meetsBead(part, approach, site)),
      );
  }

  /** After the last part only the cost counts, not the gripper: whether no way that costs at least this can be best. */
  private isWorse(
    state: OrderState,
    least: NamedCost,
    found: Iterable<Transition<OrderState, StageDraft>>,
  ): boolean {
    if (this.thorough || state.count + 1 < this.layers) return false;
    const bound = inOrder(this.facts.settings.objective, least);
    return [...found].some(({ cost }) => compareVectors(bound, cost) >= 0);
  }

  /** The same part held although it might stand, held for more tacks, or beside another that is held. */
  private *dearer(state: OrderState, draft: StageDraft): Iterable<Transition<OrderState, StageDraft>> {
    if (state.first === undefined) return;
    const newcomer = { part: draft.part, inPlace: state.inPlace, clamped: state.first };
    const { grip } = draft.way;
    const held = draft.held ? undefined : this.holdings.held(newcomer, grip);
    if (held?.ok === true) yield this.transition(state, { ...draft, ...held.value });
    const strongest = this.holdings.strongest(newcomer, grip);
    if (strongest.ok) yield this.transition(state, { ...draft, ...strongest.value });
    if (draft.held || draft.alsoHeld) return;
    for (const beside of this.holdings.beside(newcomer, grip))
      yield this.transition(state, { ...draft, ...beside });
  }

  private firstLegal(
    part: number,
    state: OrderState,
    regrips: number,
    gripper: string,
    refused: Set<number>,
    approaches: readonly Approach[],
  ): Transition<OrderState, StageDraft> | undefined {
    const { inPlace, first } = state;
    for (const way of waysOf(this.facts, part, inPlace, state.gripper, regrips, gripper, {
      refused,
      approaches,
    })) {
      const fitUp = this.facts.fitUp(part, gripsOf(way), way.chain.spot, { ...state, parts: inPlace });
      if (!fitUp.ok) {
        this.onRefusal(part, inPlace, fitUp.error);
        continue;
      }
      const holding = this.holdings.first({ part, inPlace, clamped: first }, way.grip);
      if (holding.ok) return this.transition(state, { part, way, fitUp: fitUp.value, ...holding.value });
      // Hold and tacks depend on the grip, not on how the part got there.
      refused.add(way.grip.id);
      this.onRefusal(part, inPlace, holding.error);
    }
    return undefined;
  }

  private transition(state: OrderState, draft: StageDraft): Transition<OrderState, StageDraft> {
    const { way } = draft;
    const stage = state.count + 1;
    const steps = stageSteps(this.facts, draft, stage, state.gripper);
    const pending = totalMilliseconds(steps.completing);
    const time =
      Math.max(totalMilliseconds(steps.fetch), state.pending) +
      totalMilliseconds(steps.place) +
      totalMilliseconds(steps.securing) +
      totalMilliseconds(steps.letGo) +
      totalMilliseconds(steps.takeOther) +
      totalMilliseconds(steps.letGoOther) +
      (stage === this.layers ? pending : 0);
    return {
      to: {
        inPlace: withMember(state.inPlace, draft.part),
        count: stage,
        first: state.first ?? draft.part,
        gripper: way.grip.gripper.id,
        located: withWhere(state.located, draft, 'locate'),
        seated: withWhere(state.seated, draft, 'seat'),
        laid: [...state.laid, ...draft.tacks.map(({ site }) => site)],
        pending,
      },
      step: draft,
      cost: inOrder(this.facts.settings.objective, {
        regrips: way.regrips,
        'tool-changes': way.changes,
        time,
      }),
    };
  }

  /** The gripper that must be on the arm after a part, when no other can place it at all. */
  private onlyGripper(part: number): string | undefined {
    const { facts } = this;
    const able = facts.scene.cell.grippers.filter(({ id }) =>
      facts.usableGrips(part).some((grip) => grip.gripper.id === id && canBring(facts, part, grip)),
    );
    return able.length === 1 ? able[0]!.id : undefined;
  }

  /** Regrips that no way of a part can go below: it needs a footing, and what is in place only grows. */
  private fewestRegrips(part: number): number {
    const footings = this.relations.leastFootings(part);
    return Math.min(...footings.map((inPlace) => leastRegrips(this.facts, part, inPlace)));
  }

  /** Handling time that no way of a part can go below: its acts and straight strokes, without the moves between. */
  private leastMilliseconds(part: number): number {
    const { scene, settings } = this.facts;
    const { times, handler } = scene.cell;
    const stroke = (millimetres: number): number =>
      Math.round(1000 * straightTime(millimetres, handler.straightSpeed, handler.straightAcceleration));
    const short = stroke(settings.motion['approach-distance']);
    const open = this.facts.approaches(part).filter(({ fixedHit }) => fixedHit === undefined);
    const bring = stroke(Math.min(...open.map(({ distance }) => distance)));
    const releases = this.facts.usableGrips(part).map(({ gripper }) => releaseTime(scene.cell, gripper));
    const release = releases.length === 0 ? times.release : Math.min(...releases);
    const acts = Math.round(1000 * times.grip) + Math.round(1000 * release);
    const regrips = Math.min(this.least[part]!, MOST_REGRIPS);
    return acts + 3 * short + bring + regrips * (acts + 4 * short);
  }
}

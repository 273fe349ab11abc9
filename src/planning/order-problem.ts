import type { Completion, Cost, SearchProblem, Transition } from '../algorithms/problem.js';
import { emptySet, has, setKey, setOf, withMember, type PartSet } from '../base/part-set.js';
import { compareVectors } from '../base/order.js';
import type { Result } from '../base/result.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import { siteId } from '../facts/tack-sites.js';
import type { Remedy } from '../model/plan.js';
import type { Refusal } from '../model/verdict.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { costOf, type CompleteOrder, type OrderCompleter } from './complete.js';
import type { DistortionProxy } from './distortion-proxy.js';
import { inOrder, type NamedCost } from './objective.js';
import type { Approach } from '../facts/approaches.js';
import { armOf, handsAfter, handsAtStart, handsKey } from './hands.js';
import { holdKey } from './held-grip.js';
import { broughtAfter, everyAngle, type AtAngle } from './index-angles.js';
import type { Beside, KeptHold } from './kept-hold.js';
import { OrderBounds } from './order-bounds.js';
import { OrderRelations } from './order-relations.js';
import { afterHand, type OrderState } from './order-state.js';
import { heldOn, type Holding, type ManualDraft, type RobotDraft, type StageDraft } from './stage-draft.js';
import { stageSteps } from './stage-steps.js';
import { joinedBy } from './tack-layout.js';
import { longestMilliseconds, totalMilliseconds } from './steps.js';
import { armsAndGrippers, changesFreely, gripsOf, isOpen, waysOf, type Arm, type Way } from './ways.js';

const withWhere = (parts: PartSet, { part, fitUp }: RobotDraft, remedy: Remedy): PartSet =>
  fitUp.remedies.includes(remedy) ? withMember(parts, part) : parts;

/** What a search goes by. */
export interface OrderGuide {
  /** Terms in their order; those of the settings when left out. */
  readonly objective?: readonly ObjectiveTerm[] | undefined;
  /** Stands for the distortion; without it no move costs any. */
  readonly proxy?: DistortionProxy | undefined;
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
  private readonly bounds: OrderBounds;
  private readonly relations: OrderRelations;
  /** Whether every gripper can be changed for every other. */
  private readonly changesAnywhere: boolean;

  constructor(
    private readonly facts: Facts,
    private readonly completer: OrderCompleter,
    private readonly onRefusal: RefusalListener = () => undefined,
    private readonly thorough = false,
    { objective = facts.settings.objective, proxy }: OrderGuide = {},
  ) {
    const { scene } = facts;
    const { parts, cell } = scene;
    this.layers = parts.length;
    this.objective = objective;
    this.proxy = proxy;
    this.terms = objective.length;
    const nothing = emptySet(this.layers);
    this.start = {
      inPlace: nothing,
      count: 0,
      first: undefined,
      hands: handsAtStart(cell.handlers),
      kept: undefined,
      laid: [],
      located: nothing,
      seated: nothing,
      angle: undefined,
      pending: 0,
    };
    this.angles = everyAngle(facts);
    this.relations = new OrderRelations(facts);
    this.bounds = new OrderBounds(facts, this.relations);
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
    for (let part = 0; part < this.layers; part += 1) {
      if (has(state.inPlace, part)) continue;
      if (!this.relations.allow(part, state.inPlace) || !this.mayCome(part, state)) continue;
      const { manual } = this.facts.scene.parts[part]!.part;
      if (manual) yield* this.byHand(part, manual, state);
      else yield* this.joins(part, state);
    }
  }

  /** A part must have a footing; while another is still held, it must be one that is joined to that. */
  private mayCome(part: number, { inPlace, kept }: OrderState): boolean {
    if (kept) return joinedBy(this.facts, part, setOf(this.layers, [kept.part])).length > 0;
    return this.relations.hasFooting(part, inPlace);
  }

  bound(state: OrderState): Cost {
    return inOrder(this.objective, this.bounds.rest(state.inPlace, state.hands));
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

  private estimated(draft: StageDraft, state: Pick<OrderState, 'inPlace' | 'first' | 'laid'>): number {
    const { inPlace, first, laid } = state;
    return this.proxy?.of(draft, { inPlace, first: first ?? draft.part, laid }) ?? 0;
  }

  /**
   * The ways of a part at the index angle at which the table is, and at every other one only where there are none, unless
   * the search is thorough; of the first part, and of one that no arm secures alone, at every angle there is for it.
   */
  private *joins(part: number, state: OrderState): Iterable<Transition<OrderState, StageDraft>> {
    const angles = this.anglesFor(part, state);
    let joined = false;
    for (const at of angles) {
      if (joined && state.angle !== undefined && !this.thorough) return;
      for (const transition of this.joinsAt(at, part, state)) {
        joined = true;
        yield transition;
      }
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
      const setting = byHand.set({ part, inPlace, clamped: first });
      if (!setting.ok) {
        this.onRefusal(part, inPlace, setting.error);
        continue;
      }
      const draft: ManualDraft = { angle: facts.angle, part, manual: { seconds }, ...setting.value };
      const { to, milliseconds } = afterHand(state, draft);
      const distortion = this.estimated(draft, state);
      const cost = { regrips: 0, 'tool-changes': 0, distortion, time: milliseconds };
      yield { to, step: draft, cost: inOrder(this.objective, cost) };
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

  /** The best legal way of a part for each arm and each gripper that may be on it afterwards. */
  private *joinsAt(at: AtAngle, part: number, state: OrderState): Iterable<RobotMove> {
    const arms = this.armsFor(state);
    const regripsFirst = this.objective[0] === 'regrips';
    const best = new Map<string, RobotMove>();
    const refused = new Set<string>();
    const approaches = openApproaches(at, part, state);
    for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1) {
      for (const { key, arm, gripper } of arms) {
        const known = best.get(key);
        const fewest = arm.gripper === undefined || arm.gripper === gripper ? 0 : 1;
        if (known && (regripsFirst || known.step.way.changes === fewest)) continue;
        if (this.isWorse(state, { regrips, 'tool-changes': fewest, distortion: 0, time: 0 }, best.values()))
          continue;
        const asked = { part, regrips, gripper, arm, refused, approaches };
        const found = this.firstLegal(at, state, asked, usualHolding(at, part, state));
        if (found && (!known || compareVectors(found.cost, known.cost) < 0)) best.set(key, found);
      }
      if (best.size > 0 && regripsFirst && this.changesAnywhere) break;
      if (arms.every(({ key }) => best.has(key))) break;
    }
    for (const transition of best.values()) {
      yield transition;
      if (this.thorough) yield* this.dearer(at, state, transition.step);
    }
  }

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
    const newcomer = { part, inPlace, clamped: first };
    const refused = new Set<string>();
    const found = new Set<string>();
    const approaches = openApproaches(at, part, state);
    for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1)
      for (const { key, arm, gripper } of this.armsFor(state)) {
        if (found.has(key)) continue;
        const asked = { part, regrips, gripper, arm, refused, approaches };
        const move = this.firstLegal(at, state, asked, (way) => at.holdings.keeping(newcomer, way));
        if (!move) continue;
        found.add(key);
        yield move;
      }
  }

  /** After the last part only the cost counts, not the gripper: whether no way that costs at least this can be best. */
  private isWorse(state: OrderState, least: NamedCost, found: Iterable<RobotMove>): boolean {
    if (this.thorough || state.count + 1 < this.layers) return false;
    const bound = inOrder(this.objective, least);
    return [...found].some(({ cost }) => compareVectors(bound, cost) >= 0);
  }

  /** The same part held although it might stand, held for more tacks, or beside another that is held. */
  private *dearer({ holdings }: AtAngle, state: OrderState, draft: RobotDraft): Iterable<RobotMove> {
    if (state.first === undefined || state.kept) return;
    const newcomer = { part: draft.part, inPlace: state.inPlace, clamped: state.first };
    const { way } = draft;
    const held = draft.held ? undefined : holdings.held(newcomer, way);
    if (held?.ok === true) yield this.transition(state, { ...draft, ...held.value });
    const strongest = holdings.strongest(newcomer, way);
    if (strongest.ok) yield this.transition(state, { ...draft, ...strongest.value });
    if (draft.held || draft.alsoHeld) return;
    for (const beside of holdings.beside(newcomer, way))
      yield this.transition(state, { ...draft, ...beside });
  }

  private firstLegal(
    at: AtAngle,
    state: OrderState,
    { part, regrips, gripper, arm, refused, approaches }: Asked,
    holdingOf: HoldingOf,
  ): RobotMove | undefined {
    const { inPlace, kept } = state;
    for (const found of waysOf(at.facts, part, inPlace, arm, regrips, gripper, { refused, approaches })) {
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
    const { way, part, angle } = draft;
    const facts = this.facts.at(angle);
    const { handlers } = facts.scene.cell;
    const { robot } = way.grip;
    const own = handlers.indexOf(robot);
    const stage = state.count + 1;
    const steps = stageSteps(facts, draft, state.inPlace, stage, state.hands.grippers[own]);
    const pending = longestMilliseconds(steps.completing);
    const letGo = totalMilliseconds(steps.letGo);
    const fetched = totalMilliseconds(steps.fetch) - state.hands.free[own]!;
    const { brought, since } = broughtAfter(
      facts,
      robot,
      { from: state.angle, to: angle },
      fetched,
      state.pending,
    );
    const after =
      totalMilliseconds(steps.place) +
      longestMilliseconds(steps.securing) +
      letGo +
      totalMilliseconds(steps.takeOther) +
      totalMilliseconds(steps.letGoOther);
    const elapsed = brought + after;
    const free = new Map([...since].map(([turner, idle]) => [turner, idle + after] as const));
    free.set(robot, 0);
    if (state.kept) free.set(state.kept.grip.robot, letGo);
    const kept = draft.stands === 'held' && { ...heldOn(draft), tacks: draft.tacks };
    return {
      to: {
        inPlace: withMember(state.inPlace, part),
        count: stage,
        first: state.first ?? part,
        hands: handsAfter(state.hands, handlers, way, elapsed, free),
        kept: kept || undefined,
        located: withWhere(state.located, draft, 'locate'),
        seated: withWhere(state.seated, draft, 'seat'),
        laid: [...state.laid, ...draft.tacks.map(({ site }) => site)],
        angle,
        pending,
      },
      step: draft,
      cost: inOrder(this.objective, {
        regrips: way.regrips,
        'tool-changes': way.changes,
        distortion: this.estimated(draft, state),
        time: elapsed + (stage === this.layers ? pending : 0),
      }),
    };
  }
}

type RobotMove = Transition<OrderState, RobotDraft>;

interface OneArm {
  readonly key: string;
  readonly arm: Arm;
  readonly gripper: string;
}

/** Which ways of a part are looked for. */
interface Asked {
  readonly part: number;
  readonly regrips: number;
  /** On the arm at the end. */
  readonly gripper: string;
  readonly arm: Arm;
  readonly refused: Set<string>;
  readonly approaches: readonly Approach[];
}

/** How a part is held and tacked by a grip: beside a part that is still held, or by itself. */
function usualHolding({ holdings }: AtAngle, part: number, { inPlace, first }: OrderState): HoldingOf {
  const newcomer = { part, inPlace, clamped: first };
  return (way, kept) => (kept ? holdings.pair(newcomer, way, kept) : holdings.first(newcomer, way));
}

/** Ways into place that no part in place blocks and that do not run over the metal of a tack. */
const openApproaches = (
  { facts }: AtAngle,
  part: number,
  { inPlace, laid }: OrderState,
): readonly Approach[] =>
  facts
    .approaches(part)
    .filter(
      (approach) => isOpen(approach, inPlace) && !laid.some((site) => facts.meetsBead(part, approach, site)),
    );

/** A way into place beside a part that is still held; undefined where grippers or arms meet. */
const besideKept = (
  { keptHolds }: AtAngle,
  part: number,
  inPlace: PartSet,
  way: Way,
  kept: KeptHold,
): Beside | undefined =>
  keptHolds.clear(part, way, kept) ? keptHolds.beside(part, inPlace, way, kept) : undefined;

type HoldingOf = (way: Way, kept?: KeptHold) => Result<Holding, Refusal>;

import type { Completion, Refused } from '../algorithms/problem.js';
import { Kept } from '../base/kept.js';
import { setOf } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { robotsOf, type Cell } from '../model/cell.js';
import type { PlanReserve } from '../model/plan.js';
import type { Refusal } from '../model/verdict.js';
import type { LaidTack } from '../rules/assembly.js';
import { ArmMeetings } from './arm-meetings.js';
import { grant, type GrantedPrograms } from './grants.js';
import { OrderDistortion } from './order-distortion.js';
import { inOrder, planObjective, type NamedCost } from './objective.js';
import { withBarriers } from './barriers.js';
import { stringPrograms, type StrungByHand, type StrungStage } from './programs.js';
import type { Fall } from './first-short.js';
import type { StageState } from '../rules/stage-states.js';
import { draftStates, judgeStage, stateFall } from './reserves.js';
import type { RobotDraft, StageDraft } from './stage-draft.js';
import { turnStep } from './steps.js';
import { manualStep, stageSteps } from './stage-steps.js';
import { StageWishes } from './stage-wishes.js';
import { withHandOver, withUpkeep } from './upkeep.js';

/** A whole order with holds, tacks, reserves and timeline: all that a plan document says. */
export interface CompleteOrder {
  readonly stages: readonly StageDraft[];
  /** All that is scheduled, from which the plan's handshakes are worked out. */
  readonly raw: GrantedPrograms;
  readonly regrips: number;
  readonly toolChanges: number;
  /** Predicted deviation of the tolerance features beyond their limits, tenths of a millimetre, rounded up. */
  readonly distortion: number;
  /** Weights of the soft wishes that it breaks. */
  readonly wishes: number;
}

/** What a complete order costs, term by term. */
export const costOf = ({ regrips, toolChanges, distortion, raw, wishes }: CompleteOrder): NamedCost => ({
  regrips,
  'tool-changes': toolChanges,
  distortion,
  time: raw.makespan,
  wishes,
});

/** Whether the work table turns after a stage. */
const turnsAfter = (stages: readonly StageDraft[], i: number): boolean =>
  i + 1 < stages.length && stages[i + 1]!.angle !== stages[i]!.angle;

/** The turn of the work table before a stage, and which robot commands it; undefined where it does not turn. */
function turnOf(cell: Cell, stages: readonly StageDraft[], i: number): StrungStage['turn'] {
  const { turntable } = cell.table;
  if (turntable === undefined || i === 0 || !turnsAfter(stages, i - 1)) return undefined;
  const robots = robotsOf(cell);
  const commander = robots.findIndex(({ id }) => id === turntable.commander);
  const [from, to] = [stages[i - 1]!.angle, stages[i]!.angle];
  return {
    commander,
    to,
    step: turnStep(turntable, robots[commander]!, i + 1, from, to),
  };
}

/** All that the states of a stage depend on beside the parts in place and their tacks. */
function decided(draft: StageDraft): readonly unknown[] {
  if (draft.manual) return [draft.stands, draft.tacks.map(({ id }) => id)];
  const { way, alsoHeld, proofPull, stands, tacks } = draft;
  const other = alsoHeld && [alsoHeld.part, alsoHeld.grip.id];
  const own = tacks.map(({ id, phase, motion }) => `${id}${phase}${motion.robot}`);
  return [way.grip.id, way.approach.direction, proofPull, other, stands, own];
}

/** Completes orders: whole-assembly statics in every state, then programs, handshakes and timeline. */
export class OrderCompleter {
  private readonly answers: Kept<Fall | undefined>;
  private readonly distortion: OrderDistortion;
  private readonly wishes: StageWishes;

  /**
   * More tacks under the same pushes carry no less, but for the choice of least normal forces; so the complete state
   * is judged by itself only when `thorough`.
   */
  constructor(
    private readonly facts: Facts,
    private readonly thorough = false,
  ) {
    this.answers = new Kept(facts.keeping);
    this.distortion = new OrderDistortion(facts);
    this.wishes = new StageWishes(facts);
  }

  complete(drafts: readonly StageDraft[]): Completion<CompleteOrder> {
    const before: number[] = [];
    const laid: LaidTack[] = [];
    for (const [i, draft] of drafts.entries()) {
      const fallen = this.fallen(draft, [...before], [...laid], turnsAfter(drafts, i));
      // That the parts do not stand a turn is due to the next stage, which asks for it.
      if (fallen) return { kind: 'refused', depth: fallen.turning ? i + 2 : i + 1, reason: fallen.refusal };
      before.push(draft.part);
      laid.push(...draft.tacks);
    }
    const distortion = this.distortion.of(drafts);
    if (!distortion.ok) {
      const { depth, refusal } = distortion.error;
      return { kind: 'refused', depth, reason: refusal };
    }
    return this.timed(drafts, distortion.value);
  }

  /** What refuses every order that begins with these stages, if those before the last are not refused already. */
  refusedAlready(drafts: readonly StageDraft[]): Refused | undefined {
    const before = drafts.slice(0, -1);
    const tacks = before.flatMap((draft): readonly LaidTack[] => draft.tacks);
    const fallen = this.fallen(
      drafts.at(-1)!,
      before.map(({ part }) => part),
      tacks,
      false,
    );
    if (fallen) return { kind: 'refused', depth: drafts.length, reason: fallen.refusal };
    const distortion = this.distortion.of(drafts);
    if (distortion.ok) return undefined;
    return { kind: 'refused', depth: distortion.error.depth, reason: distortion.error.refusal };
  }

  /** The reserves of every stage of a finished order, for the plan: each state solved from nothing. */
  reservesOf({ stages }: CompleteOrder): readonly (readonly PlanReserve[])[] {
    const before: number[] = [];
    const laid: LaidTack[] = [];
    return stages.map((draft, i) => {
      const reserves = judgeStage(this.facts, draft, [...before], [...laid], turnsAfter(stages, i));
      before.push(draft.part);
      laid.push(...draft.tacks);
      return reserves;
    });
  }

  /** The first state of the stage that the whole assembly does not carry. */
  private fallen(
    draft: StageDraft,
    before: readonly number[],
    laid: readonly LaidTack[],
    turnedAfter: boolean,
  ): { readonly refusal: Refusal; readonly turning: boolean } | undefined {
    for (const state of draftStates(this.facts, draft, before, laid, turnedAfter)) {
      // Of a part that a person sets no other state with its tacks is judged.
      if (state.state === 'complete' && !this.thorough && !draft.manual) continue;
      const fall = this.fall(draft, state, before, laid);
      if (fall === undefined) continue;
      const part = this.facts.scene.parts[draft.part]!.part.id;
      const { load, reserve, required } = fall;
      const refusal = {
        ...{ code: 'assembly-gives-way', subjects: [part, state.state, load] },
        ...{ value: reserve, limit: required, unit: 'reserve' },
      };
      return { refusal, turning: state.state === 'turning' };
    }
    return undefined;
  }

  private fall(
    draft: StageDraft,
    state: StageState,
    before: readonly number[],
    laid: readonly LaidTack[],
  ): Fall | undefined {
    const tacks = laid.map(({ at, length }) => `${at.join(',')}:${length}`).sort();
    const parts = [before[0], ...[...before].sort((p, q) => p - q)];
    const key = JSON.stringify([draft.part, parts, decided(draft), state.state, state.note, tacks]);
    return this.answers.get(key, () => stateFall(this.facts, state));
  }

  private timed(stages: CompleteOrder['stages'], distortion: number): Completion<CompleteOrder> {
    const { scene, settings } = this.facts;
    const { handlers } = scene.cell;
    const nameOf = (part: number): string => scene.parts[part]!.part.id;
    const mounted = new Map<string, string>();
    const strung = stages.map((draft, i): StrungStage | StrungByHand => {
      if (draft.manual) return { part: nameOf(draft.part), manual: manualStep(this.facts, draft, i + 1) };
      return this.strung(stages, i, draft, mounted);
    });
    const { cell } = scene;
    const robots = robotsOf(cell).map(({ id }) => id);
    const counts = { handlers: handlers.length, welders: cell.welders.length };
    const kept = withUpkeep(cell, stringPrograms(counts, strung));
    const raw = withHandOver(cell, withBarriers(cell, kept));
    const granted = grant(raw, new ArmMeetings(settings.motion.clearance).of(raw), robots);
    if (!granted.ok) {
      const { stage, robots: meeting } = granted.error;
      const subjects = [nameOf(stages[stage - 1]!.part), ...meeting.map((robot) => robots[robot]!)];
      return { kind: 'refused', depth: stage, reason: { code: 'arms-meet', subjects } satisfies Refusal };
    }
    const regrips = stages.reduce((sum, draft) => sum + (draft.manual ? 0 : draft.way.regrips), 0);
    const toolChanges = raw.programs.flat().filter(({ step }) => step.do === 'change-gripper').length;
    const wishes = this.wishes.broken(stages);
    const result = { stages, raw: granted.value, regrips, toolChanges, distortion, wishes };
    return { kind: 'legal', cost: inOrder(planObjective(this.facts), costOf(result)), result };
  }

  /** A stage of robots with its steps; `mounted` is what each robot has on its flange, and is brought up to date. */
  private strung(
    stages: CompleteOrder['stages'],
    i: number,
    draft: RobotDraft,
    mounted: Map<string, string>,
  ): StrungStage {
    const { scene } = this.facts;
    const { handlers } = scene.cell;
    const { alsoHeld, way } = draft;
    const { robot, gripper } = way.grip;
    const nameOf = (part: number): string => scene.parts[part]!.part.id;
    const before = setOf(
      scene.parts.length,
      stages.slice(0, i).map(({ part }) => part),
    );
    const steps = stageSteps(this.facts.at(draft.angle), draft, before, i + 1, mounted.get(robot.id));
    mounted.set(robot.id, gripper.id);
    return {
      part: nameOf(draft.part),
      robot: handlers.indexOf(robot),
      heldOn: draft.stands === 'held',
      other: alsoHeld && {
        part: nameOf(alsoHeld.part),
        robot: handlers.indexOf(alsoHeld.grip.robot),
        kept: alsoHeld.kept,
      },
      turn: turnOf(scene.cell, stages, i),
      steps,
    };
  }
}

import type { Completion } from '../algorithms/problem.js';
import type { Facts } from '../facts/facts.js';
import type { PlanReserve } from '../model/plan.js';
import type { Refusal } from '../model/verdict.js';
import type { LaidTack } from '../rules/assembly.js';
import { neededPrecedences } from './handshakes.js';
import { inOrder } from './objective.js';
import { stringPrograms, type StrungStage } from './programs.js';
import { judgeState, stageStates, stateCarries, type StageState } from './reserves.js';
import { schedule, type Schedule } from './schedule.js';
import type { StageDraft } from './stage-draft.js';
import { stageSteps } from './stage-steps.js';

/** A whole order with holds, tacks, reserves and timeline: all that a plan document says. */
export interface CompleteOrder {
  readonly stages: readonly StageDraft[];
  readonly schedule: Schedule;
  readonly regrips: number;
  readonly toolChanges: number;
}

/** Completes orders: whole-assembly statics in every state, then programs, handshakes and timeline. */
export class OrderCompleter {
  private readonly answers = new Map<string, boolean>();

  /**
   * More tacks under the same pushes carry no less, but for the choice of least normal forces; so the complete state
   * is judged by itself only when `thorough`.
   */
  constructor(
    private readonly facts: Facts,
    private readonly thorough = false,
  ) {}

  complete(drafts: readonly StageDraft[]): Completion<CompleteOrder> {
    const before: number[] = [];
    const laid: LaidTack[] = [];
    for (const [i, draft] of drafts.entries()) {
      if (!this.isSecured(draft, before, laid))
        return { kind: 'refused', depth: i + 1, reason: assemblyRefusal(this.facts, draft) };
      before.push(draft.part);
      laid.push(...draft.tacks);
    }
    return this.timed(drafts);
  }

  /** The reserves of every stage of a finished order, for the plan: each state solved from nothing. */
  reservesOf({ stages }: CompleteOrder): readonly (readonly PlanReserve[])[] {
    const before: number[] = [];
    const laid: LaidTack[] = [];
    return stages.map((draft) => {
      const reserves = stageStates(this.facts, draft, before, laid).flatMap((state) =>
        judgeState(this.facts, state),
      );
      before.push(draft.part);
      laid.push(...draft.tacks);
      return reserves;
    });
  }

  /** Whether the whole assembly carries the stage in every state. */
  private isSecured(draft: StageDraft, before: readonly number[], laid: readonly LaidTack[]): boolean {
    return stageStates(this.facts, draft, before, laid)
      .filter(({ state }) => this.thorough || state !== 'complete')
      .every((state) => this.carried(draft, before, laid, state));
  }

  private carried(
    draft: StageDraft,
    before: readonly number[],
    laid: readonly LaidTack[],
    state: StageState,
  ): boolean {
    const tacks = laid.map(({ at, length }) => `${at.join(',')}:${length}`).sort();
    const parts = [before[0], ...[...before].sort((p, q) => p - q)];
    const own = draft.tacks.map(({ id, phase }) => `${id}${phase}`);
    const other = draft.alsoHeld && [draft.alsoHeld.part, draft.alsoHeld.grip.id];
    const key = JSON.stringify([
      draft.part,
      parts,
      draft.way.grip.id,
      state.state,
      own,
      tacks,
      other,
      draft.stands,
    ]);
    let answer = this.answers.get(key);
    if (answer === undefined) {
      answer = stateCarries(this.facts, state);
      this.answers.set(key, answer);
    }
    return answer;
  }

  private timed(stages: CompleteOrder['stages']): Completion<CompleteOrder> {
    const { scene, settings } = this.facts;
    const { handlers } = scene.cell;
    const nameOf = (part: number): string => scene.parts[part]!.part.id;
    const mounted = new Map<string, string>();
    const strung = stages.map((draft, i): StrungStage => {
      const { robot, gripper } = draft.way.grip;
      const steps = stageSteps(this.facts, draft, i + 1, mounted.get(robot.id));
      mounted.set(robot.id, gripper.id);
      const { alsoHeld } = draft;
      return {
        part: nameOf(draft.part),
        robot: handlers.indexOf(robot),
        heldOn: draft.stands === 'held',
        other: alsoHeld && {
          part: nameOf(alsoHeld.part),
          robot: handlers.indexOf(alsoHeld.grip.robot),
          kept: alsoHeld.kept,
        },
        steps,
      };
    });
    const raw = stringPrograms(handlers.length, strung);
    const timeline = schedule(raw, neededPrecedences(raw));
    const regrips = stages.reduce((sum, { way }) => sum + way.regrips, 0);
    const toolChanges = timeline.programs.flat().filter((step) => step.do === 'change-gripper').length;
    const cost = inOrder(settings.objective, {
      regrips,
      'tool-changes': toolChanges,
      time: timeline.makespan,
    });
    return { kind: 'legal', cost, result: { stages, schedule: timeline, regrips, toolChanges } };
  }
}

const assemblyRefusal = (facts: Facts, { part }: StageDraft): Refusal => ({
  code: 'assembly-gives-way',
  subjects: [facts.scene.parts[part]!.part.id],
});

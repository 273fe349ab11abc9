import type { Completion } from '../algorithms/problem.js';
import type { Facts } from '../facts/facts.js';
import type { PlanReserve } from '../model/plan.js';
import type { LaidTack } from '../rules/assembly.js';
import { neededPrecedences } from './handshakes.js';
import { inOrder } from './order-problem.js';
import { stringPrograms } from './programs.js';
import { carries, judgeState, stageStates } from './reserves.js';
import { schedule, type Schedule } from './schedule.js';
import { numbered, type StageDraft } from './stage-draft.js';
import { stageSteps } from './stage-steps.js';

/** A whole order with holds, tacks, reserves and timeline: all that a plan document says. */
export interface CompleteOrder {
  readonly stages: readonly { readonly draft: StageDraft; readonly reserves: readonly PlanReserve[] }[];
  readonly schedule: Schedule;
  readonly regrips: number;
  readonly toolChanges: number;
}

/** Completes orders: whole-assembly statics in every state, then programs, handshakes and timeline. */
export class OrderCompleter {
  private readonly reserves = new Map<string, readonly PlanReserve[]>();

  constructor(private readonly facts: Facts) {}

  complete(drafts: readonly StageDraft[]): Completion<CompleteOrder> {
    const stages: { draft: StageDraft; reserves: readonly PlanReserve[] }[] = [];
    const before: number[] = [];
    const laid: LaidTack[] = [];
    for (const [i, draft] of drafts.entries()) {
      const stage = this.secured(draft, before, laid);
      if (!stage)
        return {
          kind: 'refused',
          depth: i + 1,
          reason: { code: 'assembly-gives-way', subjects: [draft.part] },
        };
      stages.push(stage);
      before.push(draft.part);
      laid.push(...stage.draft.tacks);
    }
    return this.timed(stages);
  }

  /**
   * The stage with its reserves in the whole assembly. Where the securing tacks are too few for that, more of the
   * stage's tacks are laid before the part is let go; undefined when all are not enough.
   */
  private secured(
    draft: StageDraft,
    before: readonly number[],
    laid: readonly LaidTack[],
  ): { draft: StageDraft; reserves: readonly PlanReserve[] } | undefined {
    const reserves = stageStates(this.facts, draft, before, laid).map((state) => ({
      state: state.state,
      found: this.judged(draft, before, laid, state),
    }));
    const weak = reserves.find(({ found }) => !carries(found));
    if (!weak) return { draft, reserves: reserves.flatMap(({ found }) => found) };
    const more = draft.tacks.find(({ phase, held }) => phase === 'completing' && held !== undefined);
    if (weak.state !== 'let-go' || !draft.held || !more) return undefined;
    const securing = [...draft.tacks.filter(({ phase }) => phase === 'securing'), more];
    return this.secured({ ...draft, tacks: numbered(draft.tacks, securing) }, before, laid);
  }

  private judged(
    draft: StageDraft,
    before: readonly number[],
    laid: readonly LaidTack[],
    state: ReturnType<typeof stageStates>[number],
  ): readonly PlanReserve[] {
    const tacks = (list: readonly LaidTack[]): string =>
      list
        .map(({ at, length }) => `${at.join(',')}:${length}`)
        .sort()
        .join(' ');
    const parts = [before[0], ...[...before].sort((p, q) => p - q)].join(' ');
    const touched = draft.tacks.map(({ id, phase }) => `${id}${phase}`).join(' ');
    const key = [draft.part, parts, draft.way.grip.id, state.state, touched, tacks(laid)].join('|');
    const known = this.reserves.get(key);
    if (known) return known;
    const found = judgeState(this.facts, state);
    this.reserves.set(key, found);
    return found;
  }

  private timed(stages: CompleteOrder['stages']): Completion<CompleteOrder> {
    const { scene, settings } = this.facts;
    let gripper: string | undefined;
    const strung = stages.map(({ draft }, i) => {
      const steps = stageSteps(this.facts, draft, i + 1, gripper);
      gripper = draft.way.grip.gripper.id;
      return { part: scene.parts[draft.part]!.part.id, steps };
    });
    const raw = stringPrograms(strung);
    const timeline = schedule(raw, neededPrecedences(raw));
    const regrips = stages.reduce((sum, { draft }) => sum + draft.way.regrips, 0);
    const toolChanges = timeline.handler.filter((step) => step.do === 'change-gripper').length;
    const cost = inOrder(settings.objective, {
      regrips,
      'tool-changes': toolChanges,
      time: timeline.makespan,
    });
    return { kind: 'legal', cost, result: { stages, schedule: timeline, regrips, toolChanges } };
  }
}

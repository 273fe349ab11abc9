import type { SecondsLeft } from '../../base/seconds-left.js';
import type { Facts } from '../../facts/facts.js';
import type { GeometricPlan } from '../../model/plan.js';
import type { PlanWhole, TriedSplit } from '../../model/plan-whole.js';
import type { LyingSubAssembly } from '../../model/sub-assembly.js';
import { isLess, together, type Together } from '../../rules/whole-totals.js';
import type { PlanOutcome } from '../plan-outcome.js';
import { lyingRests } from './lying.js';
import { namesOf } from './names.js';
import { spentOn, stuckIn } from './promise.js';
import { LARGEST, proposalsOf, type Proposals } from './proposals.js';
import type { PieceInputs, SplitOutcome, SplitPlanner } from './split-plan.js';
import { triedSplit } from './tried-split.js';

/** Splits that are planned at most: each takes about as long as planning in one piece (our choice). */
export const MOST_TRIED = 6;
/** Of these, splits into two groups where no single one gave a plan. */
const PAIRS_TRIED = 2;
/** Rests on which one group is tried at most. */
const RESTS_TRIED = 2;

/** What became of the weldment in one piece. */
export type InOnePiece = PlanOutcome & { readonly kind: 'planned' | 'impossible' | 'none-found' };

/** What the search for sub-assemblies needs. */
export interface AutoGround {
  readonly inputs: PieceInputs;
  readonly facts: Facts;
  readonly planner: Pick<SplitPlanner, 'plan'>;
  readonly inOnePiece: InOnePiece;
  readonly time: SecondsLeft;
  readonly isStopped: () => boolean;
}

/** What a search for sub-assemblies came to. */
export interface AutoSplit {
  /** The best plan of those with sub-assemblies and the one in one piece, if there is any, and its totals. */
  readonly best: { readonly plan: GeometricPlan; readonly totals: Together } | undefined;
  readonly search: NonNullable<PlanWhole['search']>;
}

/**
 * Tries the most promising groups one after the other, each on its lowest stable rests, beside those that were taken
 * before where they have no part in common. A group is taken where the whole costs less then, or has a plan at all. Where
 * no group by itself gives a plan, the first two pairs of them are tried.
 */
export const autoSplit = (ground: AutoGround): AutoSplit => new AutoRun(ground).run();

class AutoRun {
  private readonly proposals: Proposals;
  private readonly named: readonly { readonly name: string; readonly parts: readonly string[] }[];
  private readonly tried: TriedSplit[] = [];
  private best: AutoSplit['best'];
  private taken: readonly LyingSubAssembly[] = [];
  private cutBy: 'tries' | 'seconds' | 'stop' | undefined;

  constructor(private readonly ground: AutoGround) {
    const { inOnePiece, facts, inputs } = ground;
    const plan = inOnePiece.kind === 'planned' ? (inOnePiece.plan as GeometricPlan) : undefined;
    const parts = facts.scene.parts.map(({ part }) => part.id);
    this.proposals = proposalsOf({
      facts,
      promises: inOnePiece.kind === 'planned' ? spentOn(plan!) : stuckIn(inOnePiece, parts),
      first: plan?.stages[0]?.part ?? inputs.weldment.first,
    });
    const names = namesOf(this.proposals.groups, parts);
    this.named = this.proposals.groups.map((group, i) => ({ name: names[i]!, parts: group }));
    this.best = plan && { plan, totals: together([plan]) };
  }

  run(): AutoSplit {
    this.trySingles(this.best ? MOST_TRIED : MOST_TRIED - PAIRS_TRIED);
    if (this.best === undefined) this.tryPairs();
    const { liftable, cut, groups } = this.proposals;
    return {
      best: this.best,
      search: {
        ...{ liftable, cut, largest: LARGEST, promising: groups.length },
        ...{ tried: [...this.tried], most: MOST_TRIED },
        ...(this.cutBy && { cutBy: this.cutBy }),
      },
    };
  }

  private trySingles(most: number): void {
    for (const group of this.named) {
      if (!this.fits(group.parts)) continue;
      for (const rest of this.rests(group)) {
        if (this.isOver(most)) return;
        if (this.isBetter([...this.taken, { ...group, rest }])) break;
      }
    }
  }

  private tryPairs(): void {
    for (const [i, p] of this.named.entries())
      for (const q of this.named.slice(i + 1)) {
        if (q.parts.some((part) => p.parts.includes(part)) || !this.fits([...p.parts, ...q.parts])) continue;
        const [of, other] = [this.rests(p)[0], this.rests(q)[0]];
        if (of === undefined || other === undefined) continue;
        if (this.isOver(MOST_TRIED)) return;
        if (
          this.isBetter([
            { ...p, rest: of },
            { ...q, rest: other },
          ])
        )
          return;
      }
  }

  private rests(group: { readonly name: string; readonly parts: readonly string[] }): readonly string[] {
    const { weldment, settings } = this.ground.inputs;
    return lyingRests(weldment, group, settings).slice(0, RESTS_TRIED);
  }

  /** Whether parts are free, and something is left to join them to. */
  private fits(parts: readonly string[]): boolean {
    const taken = this.taken.flatMap((group) => group.parts);
    const left = this.ground.inputs.weldment.parts.length - taken.length - parts.length;
    return left + this.taken.length > 0 && !parts.some((part) => taken.includes(part));
  }

  private isOver(most: number): boolean {
    const { time, isStopped } = this.ground;
    const cut = isStopped()
      ? 'stop'
      : time.left() === 0
        ? 'seconds'
        : this.tried.length >= most
          ? 'tries'
          : undefined;
    this.cutBy = cut ?? this.cutBy;
    return cut !== undefined;
  }

  /** Plans a split and takes it where it is better than the best so far. */
  private isBetter(groups: readonly LyingSubAssembly[]): boolean {
    const { planner, time } = this.ground;
    const below = this.best?.totals.objective;
    const outcome: SplitOutcome = planner.plan(
      groups,
      time.part(1 / Math.max(1, MOST_TRIED - this.tried.length)),
      below,
    );
    this.tried.push(triedSplit(groups, outcome));
    if (outcome.kind !== 'planned' || (below && !isLess(outcome.totals.objective, below))) return false;
    this.best = outcome;
    this.taken = groups;
    return true;
  }
}

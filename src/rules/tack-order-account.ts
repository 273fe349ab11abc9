import { countOrders } from '../algorithms/permutations.js';
import type { TackOrder } from '../model/plan-tack-order.js';
import { TACK_HABITS } from '../model/tack-habit.js';
import { replayedStages, type Replayed } from './distortion-replay.js';
import { DistortionRun, runStage, type DistortionStage } from './distortion-run.js';
import { leftBy } from './stage-deviation.js';
import { inHabit } from './tack-habits.js';

/** What the tacks of a stage are predicted to leave, in their order and in others; mm, null where a seam gapes too wide. */
export interface TackOrderAccount {
  readonly securing: number;
  readonly completing: number;
  readonly predicted: TackOrder['predicted'];
  readonly habits: TackOrder['habits'];
  /** Of the best of all orders, where there are so few that all are replayed. */
  readonly least?: TackOrder['least'] | undefined;
}

/** As many orders are all replayed: those of three tacks, or of two and two (our choice, by the time that it takes). */
const FEW = 6;

/** All orders of some items. */
function* permuted<T>(items: readonly T[]): Generator<readonly T[]> {
  if (items.length === 0) yield [];
  for (const [i, item] of items.entries())
    for (const rest of permuted(items.toSpliced(i, 1))) yield [item, ...rest];
}

/** What the best of all orders leaves; undefined where there are many. */
function leastOf(
  { securing, completing }: Pick<DistortionStage, 'securing' | 'completing'>,
  left: (as: Pick<DistortionStage, 'securing' | 'completing'>) => number | null,
): TackOrderAccount['least'] {
  if (countOrders([securing, completing]) > FEW) return undefined;
  let least = Infinity;
  for (const first of permuted(securing))
    for (const then of permuted(completing))
      least = Math.min(least, left({ securing: first, completing: then }) ?? Infinity);
  return least === Infinity ? null : least;
}

/**
 * Replays every stage of a plan in its own order and in those of the habits, where there are few in all of them, after the
 * same stages; unrounded. Undefined where it cannot be replayed.
 */
export function tackOrderAccounts(context: Replayed): readonly TackOrderAccount[] | undefined {
  const { scene, settings, plan } = context;
  const seams = plan.joints.flatMap((joint) => joint.seams.map(({ id }) => id));
  const run = new DistortionRun(scene, settings);
  return replayedStages(context)?.map((stage) => {
    const { securing, completing } = stage;
    const before = run.copy();
    runStage(run, stage);
    const left = (as: Pick<DistortionStage, 'securing' | 'completing'>): number | null =>
      leftBy(scene, before.copy(), { ...stage, ...as });
    const several = securing.length + completing.length > 1;
    return {
      securing: securing.length,
      completing: completing.length,
      predicted: several ? left(stage) : 0,
      habits: TACK_HABITS.map((habit) => ({
        habit,
        predicted: several
          ? left({
              securing: inHabit(habit, seams, securing),
              completing: inHabit(habit, seams, completing),
            })
          : 0,
      })),
      least: several ? leastOf(stage, left) : undefined,
    };
  });
}

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
}

/**
 * Replays every stage of a plan in its own order and in those of the habits, after the same stages; unrounded. Undefined
 * where it cannot be replayed.
 */
export function tackOrderAccounts(context: Replayed): readonly TackOrderAccount[] | undefined {
  const { scene, settings, plan } = context;
  const seams = plan.joints.flatMap((joint) => joint.seams.map(({ id }) => id));
  const run = new DistortionRun(scene, settings);
  return replayedStages(context)?.map((stage) => {
    const { securing, completing } = stage;
    const before = run.copy();
    runStage(run, stage);
    const left = (as: DistortionStage): number | null => leftBy(scene, before.copy(), as);
    const several = securing.length + completing.length > 1;
    return {
      securing: securing.length,
      completing: completing.length,
      predicted: several ? left(stage) : 0,
      habits: TACK_HABITS.map((habit) => ({
        habit,
        predicted: several
          ? left({
              ...stage,
              securing: inHabit(habit, seams, securing),
              completing: inHabit(habit, seams, completing),
            })
          : 0,
      })),
    };
  });
}

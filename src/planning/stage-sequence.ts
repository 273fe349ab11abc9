import type { Sequence } from '../algorithms/permutations.js';
import type { Scene } from '../model/scene.js';
import {
  beginStage,
  canBeTacked,
  letGoIn,
  type DistortionRun,
  type DistortionStage,
} from '../rules/distortion-run.js';
import { stageDeviation } from '../rules/stage-deviation.js';

/** The weldment with the tacks of a stage laid so far. */
export interface Laid {
  readonly run: DistortionRun;
  readonly count: number;
  /** A tack was laid where the seam stood too far open for it. */
  readonly gaped: boolean;
}

/**
 * The tacks of a stage in any order, after all that the stages before have done: items are numbers in its securing tacks
 * followed by its completing ones, values how far off the stage leaves its part, mm; infinite where a seam gapes too
 * wide for the next tack. `before` stays as it is.
 */
export function stageSequence(scene: Scene, before: DistortionRun, stage: DistortionStage): Sequence<Laid> {
  const tacks = [...stage.securing, ...stage.completing];
  const numbers = tacks.map((_, i) => i);
  const { length } = stage.securing;
  const letGo = (run: DistortionRun): void => letGoIn(stage).forEach((part) => run.letGo(part));
  const start = before.copy();
  beginStage(start, stage);
  if (length === 0) letGo(start);
  return {
    groups: [numbers.slice(0, length), numbers.slice(length)],
    start: { run: start, count: 0, gaped: false },
    after: ({ run, count, gaped }, item) => {
      const next = run.copy();
      const tack = tacks[item]!;
      const gapes = !canBeTacked(scene, next.opening(tack));
      next.lay(tack);
      if (count + 1 === length) letGo(next);
      return { run: next, count: count + 1, gaped: gaped || gapes };
    },
    value: ({ run, gaped }) =>
      gaped
        ? Infinity
        : stageDeviation(scene, { part: stage.part, tacks }, (part, at) => run.displacement(part, at)),
  };
}

import type { Sequence } from '../algorithms/permutations.js';
import type { Scene } from '../model/scene.js';
import { beginStage, endSecuring, type DistortionRun, type DistortionStage } from '../rules/distortion-run.js';
import { stageDeviation } from '../rules/stage-deviation.js';

/** The weldment with the tacks of a stage laid so far. */
interface Laid {
  readonly run: DistortionRun;
  readonly count: number;
}

/**
 * The tacks of a stage in any order, after all that the stages before have done: items are numbers in its securing tacks
 * followed by its completing ones, values how far off the stage leaves its part, mm. `before` stays as it is.
 */
export function stageSequence(
  scene: Scene,
  before: DistortionRun,
  stage: DistortionStage,
): Sequence<Laid> {
  const tacks = [...stage.securing, ...stage.completing];
  const numbers = tacks.map((_, i) => i);
  const { length } = stage.securing;
  const start = before.copy();
  beginStage(start, stage);
  if (length === 0) endSecuring(start, stage);
  return {
    groups: [numbers.slice(0, length), numbers.slice(length)],
    start: { run: start, count: 0 },
    after: ({ run, count }, item) => {
      const next = run.copy();
      next.lay(tacks[item]!);
      if (count + 1 === length) endSecuring(next, stage);
      return { run: next, count: count + 1 };
    },
    value: ({ run }) =>
      stageDeviation(scene, { part: stage.part, tacks }, (part, at) => run.displacement(part, at)),
  };
}

import type { PageStage } from '../../../report/page/page-data.js';

/** Less than this apart, two moments are the same, seconds. */
export const SAME = 0.005;

/**
 * When each stage becomes the one that is looked at: when its part is taken, but not while something is still held for
 * the stage before, and at the latest just before its part is in place. In order of the stages, never falling.
 */
export function stageBegins(stages: readonly PageStage[]): readonly number[] {
  const begins: number[] = [];
  stages.forEach((stage, i) => {
    const before = stages[i - 1];
    if (!before) return void begins.push(0);
    const free = before.hold?.[1] ?? before.placed;
    const begin = Math.min(Math.max(stage.start, free), stage.placed - 2 * SAME);
    begins.push(Math.max(begins.at(-1) ?? 0, begin));
  });
  return begins;
}

/** Place in the list of the stage that is looked at; -1 where there is none. */
export function presentStage(begins: readonly number[], time: number): number {
  let found = begins.length === 0 ? -1 : 0;
  begins.forEach((begin, i) => {
    if (begin < time - SAME) found = i;
  });
  return found;
}

/** The moment that shows a stage best: its part has just come to its place, and is held where it is held. */
export const stageMoment = (stage: PageStage): number => stage.placed;

/** The moment of the next or the last stage against a moment; undefined where there is none. */
export function neighbourStage(
  stages: readonly PageStage[],
  time: number,
  way: 1 | -1,
): PageStage | undefined {
  const begins = stageBegins(stages);
  const present = presentStage(begins, time);
  const own = stages[present];
  // Forward from before its part is in place leads there first; back from after that too.
  if (own && way * (stageMoment(own) - time) > SAME) return own;
  return stages[present + way];
}

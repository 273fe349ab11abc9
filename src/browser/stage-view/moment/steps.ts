import { sixOf, type Joints } from '../../../kinematics/arm.js';
import type { PageRobot, PageStep } from '../../../report/page/page-data.js';
import { SAME } from './stages.js';

/** Every second at which a step of any robot begins, and the end of the last, once each, rising. */
export function stepMoments(robots: readonly PageRobot[], makespan: number): readonly number[] {
  const all = robots.flatMap(({ steps }) => steps.map(({ start }) => start));
  const sorted = [...all, makespan].sort((a, b) => a - b);
  return sorted.filter((time, i) => i === 0 || time - sorted[i - 1]! > SAME);
}

/** The first of rising moments after a time, or the last before it; undefined where there is none. */
export const neighbourMoment = (moments: readonly number[], time: number, way: 1 | -1): number | undefined =>
  way === 1 ? moments.find((at) => at > time + SAME) : moments.findLast((at) => at < time - SAME);

/** The step that a robot is in; of steps that take no time the last one; undefined of a robot without steps. */
export function stepAt({ steps }: PageRobot, time: number): PageStep | undefined {
  let [low, high] = [0, steps.length - 1];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (steps[middle]!.start <= time + SAME / 10) low = middle;
    else high = middle - 1;
  }
  return steps[low];
}

/** How the arm stands at a moment of a step. */
export function jointsIn({ way, at = [], start, end }: PageStep, time: number): Joints | undefined {
  if (way.length < 2 || end <= start) return way.at(-1);
  const share = Math.min(1, Math.max(0, (time - start) / (end - start)));
  const shares = [0, ...at, 1];
  const piece = Math.max(
    0,
    Math.min(way.length, shares.length) - 2 - shares.slice(1, -1).filter((s) => s > share).length,
  );
  const [low, high] = [shares[piece]!, shares[piece + 1]!];
  const within = high > low ? (share - low) / (high - low) : 1;
  const [from, to] = [way[piece]!, way[piece + 1]!];
  return sixOf((i) => from[i]! + (to[i]! - from[i]!) * within);
}

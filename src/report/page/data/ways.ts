import { distance } from '../../../geometry/vector.js';
import { place, type Pose } from '../../../geometry/pose.js';
import { sixOf, type Arm, type Joints } from '../../../kinematics/arm.js';
import { forward } from '../../../kinematics/forward.js';
import { rounded } from '../../../base/order.js';
import type { PageStep } from '../page-data.js';
import { pageJoints } from './rounding.js';

/** How far flange and tool may be off where a posture is left out, mm: too little to be seen. */
const OFF = 0.5;
/** A point that stands for a tool, in the flange frame, mm: where its turning is seen. */
const TOOL_POINT = [0, 0, 300] as const;

const between = (a: Joints, b: Joints, share: number): Joints =>
  sixOf((i) => a[i]! + (b[i]! - a[i]!) * share);

const far = (a: Pose, b: Pose): number =>
  Math.max(distance(a.at, b.at), distance(place(a, TOOL_POINT), place(b, TOOL_POINT)));

/** A way with the pose of the flange at each posture, and the share of its time at which it is taken. */
interface TimedWay {
  readonly arm: Arm;
  readonly way: readonly Joints[];
  readonly poses: readonly Pose[];
  readonly shares: readonly number[];
}

/** Shorter ways of the flange than this turn it on the spot, mm. */
const ON_THE_SPOT = 0.01;

/** The flange goes straight and turns evenly, so how far it has come tells the time. */
function timed(arm: Arm, way: readonly Joints[]): TimedWay {
  const poses = way.map((joints) => forward(arm, joints));
  const [first, last] = [poses[0]!, poses.at(-1)!];
  const whole = distance(first.at, last.at);
  const shares = poses.map((pose, k) =>
    whole < ON_THE_SPOT ? k / (way.length - 1) : distance(first.at, pose.at) / whole,
  );
  return { arm, way, poses, shares };
}

/** Numbers of the postures that are needed between two (Ramer 1972, Douglas and Peucker 1973), without the two. */
function needed(whole: TimedWay, from: number, to: number): readonly number[] {
  const { arm, way, poses, shares } = whole;
  let worst = { at: -1, off: OFF };
  for (let k = from + 1; k < to; k += 1) {
    const share = (shares[k]! - shares[from]!) / (shares[to]! - shares[from]!);
    const off = far(poses[k]!, forward(arm, between(way[from]!, way[to]!, share)));
    if (off > worst.off) worst = { at: k, off };
  }
  if (worst.at < 0) return [];
  return [...needed(whole, from, worst.at), worst.at, ...needed(whole, worst.at, to)];
}

/**
 * A way with fewer postures, and when each inner one is passed as a share of the time of its step. Flange and tool
 * are within 0.5 mm of where those left out had them.
 */
export function thinWay(arm: Arm, way: readonly Joints[]): Pick<PageStep, 'way' | 'at'> {
  const last = way.length - 1;
  if (last < 1) return { way: way.map(pageJoints) };
  const whole = timed(arm, way);
  const inner = last === 1 ? [] : needed(whole, 0, last);
  return {
    way: [0, ...inner, last].map((k) => pageJoints(way[k]!)),
    ...(inner.length > 0 && { at: inner.map((k) => rounded(whole.shares[k]!, 4)) }),
  };
}

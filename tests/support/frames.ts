import { seededRandom } from '../../src/base/random.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { frameChoicesSchema, frameOf, type Frame, type FrameChoices } from '../../src/model/frame.js';

/** Choices for frames in real size that only stand. */
export const standing = (choices: Partial<FrameChoices> = {}): FrameChoices =>
  frameChoicesSchema.parse({ scale: 1, clamp: 0, ...choices });

/** A frame of our own; nodes at the height of the table are grounded. */
export const ownFrame = (
  points: readonly Vec3[],
  bars: readonly (readonly [number, number])[],
  choices: FrameChoices,
): Frame =>
  frameOf(
    points.map((point) => ({ point, grounded: point[2] === 0 })),
    bars,
    choices,
  );

/** Three slanting legs that meet at a top, each on one foot. */
export const tripod = (choices: FrameChoices): Frame =>
  ownFrame(
    [
      [400, 0, 0],
      [-200, 346, 0],
      [-200, -346, 0],
      [0, 0, 800],
    ],
    [
      [0, 3],
      [1, 3],
      [2, 3],
    ],
    choices,
  );

/**
 * A cross on the table, a post on its middle, and two arms at the top of the post: the short one stays up alone, the long
 * one needs the short one on the other side. Bars 0 to 3 are the cross, 4 the post, 5 the short arm, 6 the long one.
 */
export const gallows = (choices: FrameChoices): Frame =>
  ownFrame(
    [
      [0, 0, 0],
      [300, 0, 0],
      [-300, 0, 0],
      [0, 300, 0],
      [0, -300, 0],
      [0, 0, 900],
      [-700, 0, 900],
      [1200, 0, 900],
    ],
    [
      [0, 1],
      [0, 2],
      [0, 3],
      [0, 4],
      [0, 5],
      [5, 6],
      [5, 7],
    ],
    choices,
  );

/** A connected frame of few bars between random nodes; the first node is grounded, others by chance. */
export function randomFrame(seed: number): Frame {
  const random = seededRandom(seed);
  const between = (low: number, high: number): number => low + random() * (high - low);
  const nodes = 4 + Math.floor(random() * 3);
  const points = Array.from({ length: nodes }, (_, i): Vec3 => {
    const low = i === 0 || random() < 0.4;
    return [between(-500, 500), between(-500, 500), low ? 0 : between(100, 900)];
  });
  const bars = points.slice(1).map((_, i): [number, number] => [Math.floor(random() * (i + 1)), i + 1]);
  for (let extra = 0; bars.length < 6 && extra < 3; extra += 1) {
    const [a, b] = [Math.floor(random() * nodes), Math.floor(random() * nodes)];
    if (a !== b && !bars.some((ends) => ends.includes(a) && ends.includes(b))) bars.push([a, b]);
  }
  const clamp = [0, 0, 20, 300][Math.floor(random() * 4)]!;
  const temperature = [400, 650][Math.floor(random() * 2)]!;
  const holds = Math.floor(random() * 3);
  return ownFrame(points, bars, standing({ clamp, holds, 'tack-temperature': temperature }));
}

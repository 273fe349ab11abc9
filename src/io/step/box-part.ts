import type { Vec3 } from '../../geometry/vector.js';
import { cross, negate } from '../../geometry/vector.js';
import { plainest } from './frame-choice.js';
import { mm } from './millimetres.js';
import type { Draft } from './recognised.js';

/** A direction of a box and how long it is that way. */
export interface Side {
  readonly along: Vec3;
  readonly size: number;
}

/** A box is a bar from so many times its width on, and a plate up to so much of its width thick (our choice). */
const BAR = 3;
const PLATE = 0.5;
const SAME = 0.01;

/** A box as a plate, a square bar or a block. */
export function boxPart(sides: readonly Side[], at: Vec3): Draft {
  const [long, wide, thin] = [...sides].sort((a, b) => b.size - a.size) as [Side, Side, Side];
  if (wide.size - thin.size <= SAME && long.size >= BAR * wide.size) return squareBar(long, wide, thin, at);
  if (thin.size <= PLATE * wide.size) return plate(long, wide, thin, at);
  return block([long, wide, thin], at);
}

type Frame<T> = readonly [Vec3, Vec3, T];

/** Frames with x along one side and y along another, each either way. */
const bothWays = <T>(x: Vec3, y: Vec3, choice: T): readonly Frame<T>[] =>
  [x, negate(x)].flatMap((a) => [y, negate(y)].map((b): Frame<T> => [a, b, choice]));

function squareBar(long: Side, wide: Side, thin: Side, at: Vec3): Draft {
  const { turn } = plainest([
    ...bothWays(long.along, wide.along, undefined),
    ...bothWays(long.along, thin.along, undefined),
  ]);
  return { key: 'square-bar', sizes: { length: mm(long.size), width: mm(wide.size) }, at, turn, notes: [] };
}

function plate(long: Side, wide: Side, thin: Side, at: Vec3): Draft {
  const { choice, turn } = plainest([
    ...bothWays(long.along, wide.along, [long, wide] as const),
    ...bothWays(wide.along, long.along, [wide, long] as const),
  ]);
  const [length, width] = choice.map(({ size }) => mm(size));
  return { key: 'plate', sizes: { length, width, thickness: mm(thin.size) }, at, turn, notes: [] };
}

function block(sides: readonly [Side, Side, Side], at: Vec3): Draft {
  const frames = sides.flatMap((x, i) =>
    sides.flatMap((y, j) => (i === j ? [] : bothWays(x.along, y.along, [x, y, sides[3 - i - j]!] as const))),
  );
  const { choice, turn } = plainest(frames);
  const [length, width, height] = choice.map(({ size }) => mm(size));
  return { key: 'block', sizes: { length, width, height }, at, turn, notes: [] };
}

/** The four frames along a direction, or against it, with y along or against another. */
export const framesAlong = (x: Vec3, y: Vec3): readonly Frame<undefined>[] => [
  ...bothWays(x, y, undefined),
  ...bothWays(x, cross(x, y), undefined),
];

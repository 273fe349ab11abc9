import type { Vec3 } from '../../src/geometry/vector.js';
import { cross, dot } from '../../src/geometry/vector.js';
import { denseMaximum, type DenseOutcome } from './dense-simplex.js';

/** A force of unknown size: its direction, where it acts, on which body and which it pushes off from (-1: ground). */
export interface Push {
  readonly force: Vec3;
  readonly at: Vec3;
  readonly on: number;
  readonly from: number;
}

/** A bound on a weighted sum of pushes. */
export interface Bound {
  readonly weights: readonly (readonly [push: number, weight: number])[];
  readonly limit: number;
}

const DECIMETRE = 0.01;

/** Force and moment about the cell's origin, N and N dm. */
const wrenchOf = (force: Vec3, at: Vec3): number[] => [
  ...force,
  ...cross(at, force).map((value) => value * DECIMETRE),
];

/** A force that is there whatever happens, or a load: on a body, with nothing that it pushes off from. */
export type Outside = Omit<Push, 'from'>;

/** The optimum; undefined when nothing is possible, not a number when the simplex could not prove what it found. */
const optimumOf = (outcome: DenseOutcome): number | undefined =>
  outcome.status === 'optimal' ? outcome.objective : outcome.status === 'infeasible' ? undefined : NaN;

/** What balances: every body in force and moment, and every bound; each line is at most its limit. */
function conditions(
  bodies: number,
  pushes: readonly Push[],
  bounds: readonly Bound[],
  constant: readonly Outside[],
  load: readonly Outside[],
): { readonly lines: number[][]; readonly limits: number[] } {
  const width = pushes.length + 1;
  const balance = Array.from({ length: 6 * bodies }, () => new Array<number>(width).fill(0));
  const right = new Array<number>(6 * bodies).fill(0);
  pushes.forEach(({ force, at, on, from }, column) => {
    wrenchOf(force, at).forEach((value, axis) => {
      if (on >= 0) balance[6 * on + axis]![column]! += value;
      if (from >= 0) balance[6 * from + axis]![column]! -= value;
    });
  });
  for (const { force, at, on } of constant)
    if (on >= 0) wrenchOf(force, at).forEach((value, axis) => (right[6 * on + axis]! -= value));
  for (const { force, at, on } of load)
    wrenchOf(force, at).forEach((value, axis) => (balance[6 * on + axis]![width - 1]! += value));
  const bounded = bounds.map(({ weights }) => {
    const line = new Array<number>(width).fill(0);
    for (const [push, weight] of weights) line[push]! += weight;
    return line;
  });
  return {
    lines: [...balance, ...balance.map((line) => line.map((value) => -value)), ...bounded],
    limits: [...right, ...right.map((value) => -value), ...bounds.map(({ limit }) => limit)],
  };
}

/**
 * The greatest factor, up to ten, of a load that balances with constant forces: a dense formulation of its own, with
 * moments about the cell's origin, solved by a simplex of its own. A witness for the equilibrium program.
 */
export function greatestFactor(
  bodies: number,
  pushes: readonly Push[],
  bounds: readonly Bound[],
  constant: readonly Outside[],
  load: readonly Outside[],
): number | undefined {
  const { lines, limits } = conditions(bodies, pushes, bounds, constant, load);
  const factor = new Array<number>(pushes.length + 1).fill(0).with(pushes.length, 1);
  return optimumOf(denseMaximum(factor, [...lines, factor], [...limits, 10]));
}

/** The least sum of some of the pushes that balances constant forces; undefined when nothing does. */
export function leastSum(
  bodies: number,
  pushes: readonly Push[],
  bounds: readonly Bound[],
  constant: readonly Outside[],
  counted: readonly number[],
): number | undefined {
  const { lines, limits } = conditions(bodies, pushes, bounds, constant, []);
  const cost = new Array<number>(pushes.length + 1).fill(0);
  for (const push of counted) cost[push] = -1;
  const best = optimumOf(denseMaximum(cost, lines, limits));
  return best === undefined ? undefined : -best;
}

/**
 * Normal and friction pushes of one patch by sizes of their own: friction up to mu times the normal at each corner,
 * and in sum up to mu times what the patch is pressed with; Infinity leaves the sum free.
 */
export function patch(
  first: number,
  corners: readonly Vec3[],
  frame: readonly [Vec3, Vec3, Vec3],
  friction: number,
  pressed: number,
  on: number,
  from: number,
): { pushes: Push[]; bounds: Bound[] } {
  const [x, y, normal] = frame;
  const pushes: Push[] = [];
  const bounds: Bound[] = [];
  const all: [number, number][] = [];
  for (const at of corners) {
    const normalPush = first + pushes.push({ force: normal, at, on, from }) - 1;
    const own: [number, number][] = [[normalPush, -friction]];
    for (let k = 0; k < 8; k += 1) {
      const [c, s] = [Math.cos((k * Math.PI) / 4), Math.sin((k * Math.PI) / 4)];
      const force: Vec3 = [c * x[0] + s * y[0], c * x[1] + s * y[1], c * x[2] + s * y[2]];
      const push = first + pushes.push({ force, at, on, from }) - 1;
      own.push([push, 1]);
      all.push([push, 1]);
    }
    bounds.push({ weights: own, limit: 0 });
  }
  if (pressed < Infinity) bounds.push({ weights: all, limit: friction * pressed });
  return { pushes, bounds };
}

/** Two forces of a tack, each with axis sizes whose sum is at most half the strength. */
export function tack(
  first: number,
  points: readonly Vec3[],
  frame: readonly [Vec3, Vec3, Vec3],
  strength: number,
  on: number,
  from = -1,
): { pushes: Push[]; bounds: Bound[] } {
  const directions = frame.flatMap((axis): Vec3[] => [axis, [-axis[0], -axis[1], -axis[2]]]);
  const pushes = points.flatMap((at) => directions.map((force) => ({ force, at, on, from })));
  const bounds = points.map((_, i) => ({
    weights: directions.map((_direction, k) => [first + 6 * i + k, 1] as const),
    limit: strength / 2,
  }));
  return { pushes, bounds };
}

/** Whether three vectors are unit and square to each other, so that a frame in a test is one. */
export const isFrame = (frame: readonly [Vec3, Vec3, Vec3]): boolean =>
  frame.every((a, i) => frame.every((b, j) => Math.abs(dot(a, b) - (i === j ? 1 : 0)) < 1e-12));

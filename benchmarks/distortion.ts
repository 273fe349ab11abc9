import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { factorise, lowerTriangle, solveFactorised } from '../src/algorithms/cholesky.js';
import { narrowOrder } from '../src/algorithms/narrow-order.js';
import { add, scale, subtract, type Vec3 } from '../src/geometry/vector.js';
import { Distortion, type Spring } from '../src/mechanics/distortion.js';
import { GROUND } from '../src/mechanics/system.js';
import { tackSprings } from '../src/mechanics/tack-springs.js';
import { median, row, seconds } from './printing.js';

export interface DistortionOptions {
  /** Parts of the frames that are tacked. */
  readonly parts: readonly number[];
  readonly repeats: number;
}

/** Plates in rows of five, each tacked to the one beside it and the one behind it, the first one clamped. */
interface Frame {
  readonly centres: readonly Vec3[];
  readonly clamp: readonly Spring[];
  readonly tacks: readonly (readonly Spring[])[];
}

const ROW = 5;
const CLAMPED: readonly Vec3[] = [
  [0, 0, 0],
  [100, 0, 0],
  [0, 100, 0],
];

function frame(count: number): Frame {
  const centres = Array.from({ length: count }, (_, i): Vec3 => [
    200 * (i % ROW),
    200 * Math.floor(i / ROW),
    100,
  ]);
  const pairs = centres.flatMap((_, b) =>
    [b % ROW > 0 ? b - 1 : -1, b - ROW].filter((a) => a >= 0).map((a) => [a, b] as const),
  );
  return {
    centres,
    clamp: CLAMPED.map((at) => ({ a: GROUND, b: 0, at, stiffness: 10_000, most: Infinity })),
    tacks: pairs.flatMap(([a, b]) => tacksBetween(a, b, centres)),
  };
}

/** Four tacks: two on each side of the plate. */
function tacksBetween(a: number, b: number, centres: readonly Vec3[]): readonly (readonly Spring[])[] {
  const way = subtract(centres[b]!, centres[a]!);
  const across: Vec3 = scale(way, 1 / 200);
  const along: Vec3 = [-across[1], across[0], 0];
  return [-60, 60].flatMap((place) =>
    [1, -1].map((side) =>
      tackSprings({
        ...{ a, b, along, length: 30, throat: 2.8, modulus: 210_000, yield: 235, pull: [0, 0, -1] as const },
        at: add(add(centres[a]!, scale(way, 0.5)), add(scale(along, place), scale(across, 5 * side))),
        open: scale(add(scale(across, side), [0, 0, 1]), Math.SQRT1_2),
        shrinkage: { transverse: 0.05, longitudinal: 0, angular: 0.006 },
      }),
    ),
  );
}

/** Tacks of frames laid one by one, everything settled after each; and one linear system of that size beside ml-matrix. */
export function distortion({ parts, repeats }: DistortionOptions): void {
  for (const count of parts) {
    const { centres, clamp, tacks } = frame(count);
    let solves = 0;
    const times = Array.from({ length: repeats + 1 }, () => {
      const system = new Distortion(centres);
      system.add(clamp);
      solves = 0;
      return seconds(() => {
        for (const tack of tacks) {
          system.add(tack);
          solves += system.settle().steps;
        }
      });
    }).slice(1);
    const rate = (tacks.length / median(times)).toFixed(0);
    const each = (solves / tacks.length).toFixed(1);
    row(
      `distortion, ${count} parts, ${tacks.length} tacks one by one`,
      times,
      `${rate} steps/s, ${each} solves each`,
    );
    besideLibrary(frame(count), repeats);
  }
}

/** The stiffness of all springs as if none yielded, in an order that keeps its entries near the diagonal, and a right side. */
function linearSystem({ centres, clamp, tacks }: Frame): {
  readonly matrix: Matrix;
  readonly side: number[];
} {
  const size = 6 * centres.length;
  const springs = [...clamp, ...tacks.flat()];
  const near = centres.map((_, one) =>
    [...centres.keys()].filter((other) =>
      springs.some(({ a, b }) => (a === one && b === other) || (a === other && b === one)),
    ),
  );
  const place = new Map(narrowOrder(near).map((body, i) => [body, 6 * i]));
  const matrix = Matrix.zeros(size, size);
  for (const { a, b, at, stiffness } of springs) {
    const rows = Matrix.zeros(3, size);
    for (const [body, sign] of [
      [a, -1],
      [b, 1],
    ] as const) {
      if (body === GROUND) continue;
      const [x, y, z] = scale(subtract(at, centres[body]!), 1 / 100);
      const arms = [
        [1, 0, 0, 0, z, -y],
        [0, 1, 0, -z, 0, x],
        [0, 0, 1, y, -x, 0],
      ];
      arms.forEach((of, i) => of.forEach((value, j) => rows.set(i, place.get(body)! + j, sign * value)));
    }
    matrix.add(rows.transpose().mmul(rows).mul(stiffness));
  }
  return { matrix, side: Array.from({ length: size }, (_, i) => Math.sin(i)) };
}

function besideLibrary(of: Frame, repeats: number): void {
  const { matrix, side } = linearSystem(of);
  const size = side.length;
  const first = side.map((_, i) => matrix.getRow(i).findIndex((value) => value !== 0));
  const many = Math.max(1, Math.round(2000 / size));
  let ours = new Float64Array(size);
  let theirs: number[] = [];
  const own = (): void => {
    const triangle = lowerTriangle(size);
    triangle.first.set(first);
    for (let i = 0; i < size; i += 1)
      for (let j = first[i]!; j <= i; j += 1) triangle.entries[i * size + j] = matrix.get(i, j);
    if (!factorise(triangle).ok) throw new Error('the stiffness of a frame has no factor');
    ours = Float64Array.from(side);
    solveFactorised(triangle, ours);
  };
  const library = (): void => {
    theirs = new CholeskyDecomposition(matrix).solve(Matrix.columnVector(side)).to1DArray();
  };
  const timed = (work: () => void): number[] =>
    Array.from({ length: repeats + 1 }, () =>
      seconds(() => {
        for (let i = 0; i < many; i += 1) work();
      }),
    ).slice(1);
  const [mine, other] = [timed(own), timed(library)];
  const most = Math.max(...theirs.map(Math.abs));
  const apart = Math.max(...theirs.map((value, i) => Math.abs(value - ours[i]!))) / most;
  row(`  ${many} linear systems of ${size}, our factor`, mine);
  const ratio = (median(other) / median(mine)).toFixed(2);
  row(
    '  the same by ml-matrix',
    other,
    `${ratio} x the time, ${apart < 1e-6 ? 'the same' : 'another'} answer`,
  );
}

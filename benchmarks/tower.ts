import { FACTOR_CAP, equilibriumProgram } from '../src/mechanics/equilibrium-program.js';
import type { Packed, Program, Row } from '../src/algorithms/linear-program.js';
import { GROUND, type Disturbance, type System } from '../src/mechanics/system.js';

/** Forces on the uppermost block: one set of load cases. */
export const LOADS = 16;

/** A tower of blocks under sixteen pushes at its top. */
export function tower(count: number): { readonly system: System; readonly pushes: readonly Disturbance[] } {
  const side = 50;
  const square = (z: number) =>
    [
      [-side, -side, z],
      [side, -side, z],
      [side, side, z],
      [-side, side, z],
    ] as const;
  const bodies = Array.from({ length: count }, (_, i) => ({ mass: 2, centre: [0, 0, 20 * i + 10] as const }));
  const bearings = bodies.map((_, i) => ({
    ...{ a: i === 0 ? GROUND : i - 1, b: i, corners: square(20 * i) },
    ...{ normal: [0, 0, 1] as const, friction: 0.3, preload: 0 },
  }));
  const pushes = Array.from({ length: LOADS }, (_, i): Disturbance => {
    const angle = (i * 2 * Math.PI) / LOADS;
    const force = [3 * Math.cos(angle), 3 * Math.sin(angle), 0] as const;
    return { name: `push ${i}`, forces: [{ body: count - 1, force, at: [0, 0, 20 * count] }] };
  });
  return { system: { bodies, bearings, links: [], pads: [], holds: [] }, pushes };
}

/** One program a push: gravity at one, the push as great as balance allows. The same for every engine. */
export function towerPrograms(count: number): readonly Program[] {
  const { system, pushes } = tower(count);
  const { program, layout } = equilibriumProgram(system, pushes);
  const rows = rowsOf(program);
  return layout.disturbances.map((active) => ({
    rows,
    columns: Array.from(program.upper, (upper, j) => {
      if (j === layout.gravity) return { cost: 0, lower: 1, upper: 1 };
      return j === active ? { cost: -1, lower: 0, upper: FACTOR_CAP } : { cost: 0, lower: 0, upper };
    }),
  }));
}

/** The rows of a packed program as lists, as other engines want them. */
const rowsOf = ({ rowLower, rowUpper, starts, indices, values }: Packed): readonly Row[] =>
  Array.from(rowLower, (lower, i) => ({
    ...{ lower, upper: rowUpper[i]! },
    entries: Array.from(indices.subarray(starts[i], starts[i + 1]), (column, k) => [
      column,
      values[starts[i]! + k]!,
    ]),
  }));

import { compareText } from '../base/order.js';
import { runKey, type Limits, type RunKey } from './row.js';

/** What a study needs to know of a solver. */
export interface GridSolver {
  readonly name: string;
  /** Of the file of a user's heuristic, and empty for a solver of ours. */
  readonly digest: string;
  /** Whether the seed means anything to it. */
  readonly random: boolean;
}

/** One run of a study: which instance, which solver, which seed. */
export interface GridCell<I, S> {
  readonly instance: I;
  readonly solver: S;
  readonly key: RunKey;
}

/** The seed of the one run of a solver that makes no random choices. */
export const ONLY_SEED = 1;

/**
 * Every run of a study, instance by instance, then solver by solver, then seed by seed; none twice, even where two
 * files hold the same instance. A solver without random choices runs once an instance, as seed 1.
 */
export function gridOf<I extends { readonly digest: string }, S extends GridSolver>(
  instances: readonly I[],
  solvers: readonly S[],
  seeds: readonly number[],
  limits: Limits,
): readonly GridCell<I, S>[] {
  const cells = new Map<string, GridCell<I, S>>();
  for (const instance of instances) {
    for (const solver of solvers) {
      for (const seed of solver.random ? seeds : [ONLY_SEED]) {
        const key: RunKey = {
          ...{ digest: instance.digest, solver: solver.name, solverDigest: solver.digest, seed, limits },
        };
        const name = runKey(key);
        if (!cells.has(name)) cells.set(name, { instance, solver, key });
      }
    }
  }
  return [...cells.values()];
}

/** The part `index` (from 1) of `count` parts of a grid. */
export interface Shard {
  readonly index: number;
  readonly count: number;
}

/** A shard as `2/8`; undefined for anything else. */
export function readShard(text: string): Shard | undefined {
  const [, index, count] = /^(\d{1,6})\/(\d{1,6})$/.exec(text) ?? [];
  const shard = { index: Number(index), count: Number(count) };
  return shard.index >= 1 && shard.index <= shard.count ? shard : undefined;
}

/**
 * The runs of one shard, in the order of the grid. Runs are dealt out in turn in the order of their keys, which begin
 * with a digest: the deal is even, does not hang on the order in which files are named, and mixes instances well.
 */
export function shardOf<I, S>(
  grid: readonly GridCell<I, S>[],
  { index, count }: Shard,
): readonly GridCell<I, S>[] {
  const dealt = grid
    .map((cell) => ({ cell, name: runKey(cell.key) }))
    .sort((a, b) => compareText(a.name, b.name))
    .filter((_, place) => place % count === index - 1);
  const mine = new Set(dealt.map(({ cell }) => cell));
  return grid.filter((cell) => mine.has(cell));
}

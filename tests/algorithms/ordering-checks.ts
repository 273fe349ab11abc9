import { existsSync, readFileSync } from 'node:fs';
import type { PackedProblem } from '../../src/algorithms/solvers/packed-problem.js';
import type { SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import { parseSop } from '../../src/io/sop.js';

// TSPLIB sequential ordering instances (Reinelt 1991) and SOPLIB 2006; files and best-known values as in
// ../shared/data/SOURCES.md.
const DATA = new URL('../../../shared/data/', import.meta.url);

export const published = existsSync(DATA);

export function publishedOrdering(folder: string, name: string): SequentialOrdering {
  const parsed = parseSop(readFileSync(new URL(`${folder}/${name}.sop`, DATA), 'utf8'));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

export function bestKnown(folder: string, name: string): number {
  const rows = readFileSync(new URL(`${folder}/best-known.csv`, DATA), 'utf8')
    .trim()
    .split('\n');
  const column = rows[0]!.split(',').indexOf('best_known');
  return Number(
    rows
      .map((row) => row.split(','))
      .find((row) => row[0] === name)
      ?.at(column),
  );
}

/** Cost of the order that moves make and whether it is legal, straight from the matrix. */
export function judge(
  { cost }: SequentialOrdering,
  moves: readonly number[],
): { legal: boolean; sum: number } {
  const order = [0, ...moves.map((move) => move + 1)];
  const last = order.length === cost.length && order.at(-1) === cost.length - 1;
  const legal = order.every((node, at) => cost[node]!.every((c, j) => c !== -1 || order.indexOf(j) < at));
  const sum = order.slice(1).reduce((total, node, at) => total + cost[order[at]!]![node]!, 0);
  return { legal: legal && last && new Set(order).size === cost.length, sum };
}

/** What the problem says along an order: the moves it offers, the bound before each move, and what is spent. */
export function along(
  problem: PackedProblem,
  order: readonly number[],
): { offered: boolean; bound: number; spent: number }[] {
  let state = new Uint32Array(problem.words);
  let after = new Uint32Array(problem.words);
  const moves = new Int32Array(problem.moves);
  const row = new Float64Array(1);
  problem.start(state);
  let spent = 0;
  return order.slice(1).map((node, layer) => {
    const count = problem.movesFrom(state, moves);
    problem.bound(state, layer, row);
    const seen = { offered: moves.subarray(0, count).includes(node - 1), bound: row[0]!, spent };
    problem.follow(state, node - 1, after, row);
    [state, after] = [after, state];
    spent += row[0]!;
    return seen;
  });
}

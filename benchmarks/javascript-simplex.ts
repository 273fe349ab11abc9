/*
 * A process of its own, because the engine may never return: solves the programs of a tower with
 * javascript-lp-solver and prints seconds and optima. `node --import tsx benchmarks/javascript-simplex.ts 5`
 */
import * as solverPackage from 'javascript-lp-solver';
import type { Program } from '../src/algorithms/linear-program.js';
import { seconds } from './printing.js';
import { towerPrograms } from './tower.js';

const solver = solverPackage.default as unknown as typeof solverPackage.default.default;
type Model = Parameters<typeof solver.Solve>[0];

/** Fixed columns go to the right-hand side, columns with an upper bound get a row. */
function modelOf({ columns, rows }: Program): Model {
  const constraints: Record<string, { min?: number; max?: number; equal?: number }> = {};
  const variables: Record<string, Record<string, number>> = {};
  const fixed = columns.map(({ lower, upper }) => lower === upper);
  columns.forEach(({ cost, upper }, j) => {
    if (fixed[j]!) return;
    variables[`x${j}`] = { cost };
    if (upper === Infinity) return;
    constraints[`u${j}`] = { max: upper };
    variables[`x${j}`]![`u${j}`] = 1;
  });
  rows.forEach(({ lower, upper, entries }, i) => {
    if (lower === -Infinity && upper === Infinity) return;
    const given = entries.reduce((sum, [j, value]) => sum + (fixed[j]! ? value * columns[j]!.lower : 0), 0);
    constraints[`r${i}`] =
      lower === upper
        ? { equal: lower - given }
        : {
            ...(lower === -Infinity ? {} : { min: lower - given }),
            ...(upper === Infinity ? {} : { max: upper - given }),
          };
    for (const [j, value] of entries) if (!fixed[j]!) variables[`x${j}`]![`r${i}`] = value;
  });
  return { optimize: 'cost', opType: 'min', constraints, variables, options: { presolve: false } };
}

const models = towerPrograms(Number(process.argv[2])).map(modelOf);
let optima: (number | undefined)[] = [];
const solve = (): void => {
  optima = models.map((model) => {
    const answer = solver.Solve(model) as { feasible?: boolean; result?: number };
    return answer.feasible === true ? -answer.result! : undefined;
  });
};
solve();
console.log(JSON.stringify({ seconds: seconds(solve), optima }));

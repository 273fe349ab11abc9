import * as solverPackage from 'javascript-lp-solver';
import { coveringFeasible } from './covering-feasibility.js';

/** Choose at least `atLeast` and at most `atMost` of the members (numbers of items). */
export interface Choice {
  readonly members: readonly number[];
  readonly atLeast?: number | undefined;
  readonly atMost?: number | undefined;
}

/** Which items to take so that every choice is respected and the whole costs least. */
export interface CoveringProgram {
  /** Whole numbers of at least zero, one an item, each at most a million. */
  readonly costs: readonly number[];
  readonly choices: readonly Choice[];
}

/** `failed`: no trustworthy answer; it says nothing about the program. */
export type CoveringOutcome =
  | { readonly status: 'optimal'; readonly cost: number; readonly chosen: readonly number[] }
  | { readonly status: 'infeasible' }
  | { readonly status: 'failed'; readonly why: string };

const GREATEST_COST = 1e6;

/**
 * Solves a small 0/1 covering program by branch and bound over linear relaxations (javascript-lp-solver), and checks
 * the answer: chosen items against every choice, "infeasible" by a search of its own. The same program gives the
 * same answer. Meant for tens of items and rows, as the tack sites of one joint are; larger ones belong to HiGHS.
 */
export function cover(program: CoveringProgram): CoveringOutcome {
  const unsound = unsoundness(program);
  if (unsound !== undefined) return { status: 'failed', why: unsound };
  const found = ask(program);
  if (found === undefined) return confirmInfeasible(program);
  const broken = program.choices.findIndex((choice) => !respected(choice, found));
  if (broken >= 0) return { status: 'failed', why: `the solver's answer breaks choice ${broken}` };
  const cost = found.reduce((sum, item) => sum + program.costs[item]!, 0);
  return { status: 'optimal', cost, chosen: found };
}

/** Whether the chosen items, each named once, keep to a choice. */
export function respected(choice: Choice, chosen: readonly number[]): boolean {
  const members = new Set(choice.members);
  const count = chosen.filter((item) => members.has(item)).length;
  return count >= (choice.atLeast ?? 0) && count <= (choice.atMost ?? Infinity);
}

function unsoundness({ costs, choices }: CoveringProgram): string | undefined {
  const cost = costs.findIndex((value) => !Number.isInteger(value) || value < 0 || value > GREATEST_COST);
  if (cost >= 0) return `cost ${costs[cost]} of item ${cost} is no whole number from 0 to ${GREATEST_COST}`;
  const outside = choices.flatMap((choice) => choice.members).find((item) => !(item in costs));
  if (outside !== undefined) return `a choice names item ${outside}, but there are ${costs.length} items`;
  return undefined;
}

/** The solver's answer, or undefined when it calls the program infeasible. */
function ask({ costs, choices }: CoveringProgram): number[] | undefined {
  const solver = solverPackage.default as unknown as typeof solverPackage.default.default;
  const constraints: Record<string, { min?: number; max?: number }> = {};
  const variables = Object.fromEntries(costs.map((cost, item) => [`x${item}`, { cost } as Record<string, number>]));
  choices.forEach(({ members, atLeast, atMost }, row) => {
    const bound = { ...(atLeast === undefined ? {} : { min: atLeast }), ...(atMost === undefined ? {} : { max: atMost }) };
    if (Object.keys(bound).length > 0) constraints[`row${row}`] = bound;
    for (const item of new Set(members)) variables[`x${item}`]![`row${row}`] = 1;
  });
  const binaries = Object.fromEntries(costs.map((_, item) => [`x${item}`, 1 as const]));
  const answer = solver.Solve({ optimize: 'cost', opType: 'min', constraints, variables, binaries, options: { presolve: false } });
  if (typeof answer !== 'object' || !('feasible' in answer) || answer.feasible !== true) return undefined;
  const values = answer as unknown as Record<string, number | undefined>;
  return costs.flatMap((_, item) => ((values[`x${item}`] ?? 0) > 0.5 ? [item] : []));
}

function confirmInfeasible(program: CoveringProgram): CoveringOutcome {
  const feasible = coveringFeasible(program);
  if (feasible === 'no') return { status: 'infeasible' };
  const why = feasible === 'yes' ? 'but it is not' : 'which could not be confirmed in the step limit';
  return { status: 'failed', why: `the solver calls the program infeasible, ${why}` };
}

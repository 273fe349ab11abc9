import type { Solver } from '../algorithms/solvers/solver.js';
import { SOLVERS } from '../algorithms/solvers/solvers.js';

/** A solver as a study calls it. */
export interface StudySolver {
  /** Undefined for the whole planner, which takes weldments with shapes only. */
  readonly solve: Solver | undefined;
  /** Whether it makes random choices, so that a seed means something. */
  readonly random: boolean;
}

/** The name of the whole planner among the solvers of a study. */
export const PLANNER = 'plan';

/** Solvers that ask for a seed. */
const RANDOM: ReadonlySet<string> = new Set(['large-neighbourhood', 'random-restarts', 'combined']);

/** All solvers by name, the whole planner among them. */
export const STUDY_SOLVERS: ReadonlyMap<string, StudySolver> = new Map<string, StudySolver>([
  ...Object.entries(SOLVERS).map(([name, { solve }]): [string, StudySolver] => [
    name,
    { solve, random: RANDOM.has(name) },
  ]),
  [PLANNER, { solve: undefined, random: false }],
]);

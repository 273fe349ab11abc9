import { beam } from './beam.js';
import { bestFirst } from './best-first.js';
import { combined } from './combined.js';
import { depthFirst } from './depth-first.js';
import { greedy } from './greedy.js';
import { largeNeighbourhood } from './large-neighbourhood.js';
import { randomRestarts } from './random-restarts.js';
import { setProgramming } from './set-programming.js';
import type { Solver } from './solver.js';

/** A solver with what one needs to know to choose it. */
export interface SolverEntry {
  readonly solve: Solver;
  /** One line. */
  readonly description: string;
  /**
   * Whether it ends with a proof when budget and memory suffice; the others prove only what their bound
   * happens to meet.
   */
  readonly proves: boolean;
}

/** All solvers by name. */
export const SOLVERS = {
  combined: {
    solve: combined,
    description:
      'Local search, sharpening of the bounds and the complete beam in turn, each turn longer; seeded.',
    proves: true,
  },
  beam: {
    solve: beam,
    description: 'Complete anytime beam: sweeps over the layers, each twice as wide as the one before.',
    proves: true,
  },
  'best-first': {
    solve: bestFirst,
    description: 'Always the open state of least bound; the bound rises until it meets the best path.',
    proves: true,
  },
  'depth-first': {
    solve: depthFirst,
    description: 'Depth-first branch and bound with a bounded table of the states explored.',
    proves: true,
  },
  'set-programming': {
    solve: setProgramming,
    description: 'Dynamic programming over the sets of items done, layer by layer, with bounds.',
    proves: true,
  },
  'large-neighbourhood': {
    solve: largeNeighbourhood,
    description: 'Frees some items of the best path and puts them back exactly, again and again; seeded.',
    proves: true,
  },
  greedy: {
    solve: greedy,
    description:
      'The cheapest next move by cost and bound, backing up from dead ends; stops at the first path.',
    proves: false,
  },
  'random-restarts': {
    solve: randomRestarts,
    description: 'Seeded random dives led by cost and bound, until the budget ends.',
    proves: false,
  },
} as const satisfies Record<string, SolverEntry>;

export type SolverName = keyof typeof SOLVERS;

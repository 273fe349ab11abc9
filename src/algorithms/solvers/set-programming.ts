import { sweepLayers } from './layer-passes.js';
import type { Solver } from './solver.js';

/** Widths of the sweeps that look for a path to beat. */
const FIRST_WIDTHS = [1, 32, 1024];

/**
 * Dynamic programming over the sets of items done (Held and Karp 1962), with bounds: after some narrow sweeps, which find
 * a path to beat, every state of a layer that may still beat it is expanded before any of the next, so that each is
 * expanded once, at its least cost, but for the few that the narrow sweeps took too dear. When a layer does not fit into
 * the memory, its worst states by bound are dropped and what is left is a beam with a bound.
 */
export const setProgramming: Solver = (problem, options) =>
  sweepLayers(problem, options, (sweep) => FIRST_WIDTHS[sweep] ?? Infinity);

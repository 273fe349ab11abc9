import { sweepLayers } from './layer-passes.js';
import type { Solver } from './solver.js';

const WIDEST = 2 ** 30;

/**
 * Complete anytime beam: the first sweep over the layers is a greedy dive, each further one is twice as wide, and what a
 * sweep leaves open the next ones take up, so that no state is expanded twice and all sweeps together are complete
 * (complete beam search after Zhang, AAAI 1998, with open lists kept between sweeps).
 */
export const beam: Solver = (problem, options) =>
  sweepLayers(problem, options, (sweep) => Math.min(2 ** sweep, WIDEST));

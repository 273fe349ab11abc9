import type { Cost } from '../algorithms/cost.js';

/** A cost as a reader sees it. */
export const shownCost = (cost: Cost): string => cost.join(' / ');

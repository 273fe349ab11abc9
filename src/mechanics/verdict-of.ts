import type { Outcome } from '../algorithms/linear-program.js';
import { FACTOR_CAP, forceOf, type Layout } from './equilibrium-program.js';
import type { ForceSet, Verdict } from './verdict.js';

/** That a load is carried as often as is looked for. */
export const capped = (name: string): Verdict => ({
  ...{ name, reserve: FACTOR_CAP, stands: true },
  ...{ weakest: undefined, forces: undefined, failure: undefined },
});

/** That no program gave an answer about a load. */
export function failed(name: string, outcome: Outcome): Verdict {
  const failure = outcome.status === 'failed' ? outcome.why : `the equilibrium program is ${outcome.status}`;
  return { name, reserve: 0, stands: false, weakest: undefined, forces: undefined, failure };
}

/** Forces by the strengths of a program's columns; `active` is the column of the factor that was looked for. */
export function forcesOf(layout: Layout, values: Float64Array, active: number): ForceSet {
  const { bearings, links, pads, gravity } = layout;
  return {
    gravity: values[gravity]!,
    disturbance: active === gravity ? 0 : values[active]!,
    bearings: bearings.map(({ points }) => points.map((terms) => forceOf(terms, values))),
    links: links.map(({ halves }) => halves.map(({ terms }) => forceOf(terms, values))),
    pads: pads.map(({ points }) => points.map((terms) => forceOf(terms, values))),
  };
}

import { fail, ok, type Result } from '../../base/result.js';
import { LEAST_PARTS, MOST_PARTS } from './structure.js';

/** The dials of an instance. Shares are from 0 to 1. */
export interface InstanceOptions {
  readonly parts: number;
  readonly seed: number;
  /** Of the blocking that makes sense in the structure. */
  readonly blocking: number;
  /** Different grippers. */
  readonly grippers: number;
  /** Of the parts, by how many only one gripper can take. */
  readonly single: number;
  /** Of the parts, for how many some way needs a regrip. */
  readonly regrips: number;
}

/** Our own choice: some of everything. */
export const DEFAULT_DIALS = { seed: 1, blocking: 0.5, grippers: 3, single: 0.3, regrips: 0.2 } as const;

export const MOST_GRIPPERS = 12;

const within = (
  name: string,
  value: number,
  least: number,
  most: number,
  whole: boolean,
): string | undefined =>
  value >= least && value <= most && (!whole || Number.isSafeInteger(value))
    ? undefined
    : `--${name} ${value}: write a ${whole ? 'whole ' : ''}number from ${least} to ${most}`;

/** The dials with defaults for those left out, or one line that says which is wrong and what it may be. */
export function readOptions(
  given: { readonly parts: number } & Partial<InstanceOptions>,
): Result<InstanceOptions, string> {
  const options: InstanceOptions = {
    parts: given.parts,
    seed: given.seed ?? DEFAULT_DIALS.seed,
    blocking: given.blocking ?? DEFAULT_DIALS.blocking,
    grippers: given.grippers ?? DEFAULT_DIALS.grippers,
    single: given.single ?? DEFAULT_DIALS.single,
    regrips: given.regrips ?? DEFAULT_DIALS.regrips,
  };
  const issue =
    within('parts', options.parts, LEAST_PARTS, MOST_PARTS, true) ??
    within('seed', options.seed, 0, 2 ** 32 - 1, true) ??
    within('blocking', options.blocking, 0, 1, false) ??
    within('grippers', options.grippers, 1, MOST_GRIPPERS, true) ??
    within('single', options.single, 0, 1, false) ??
    within('regrips', options.regrips, 0, 1, false);
  return issue === undefined ? ok(options) : fail(issue);
}

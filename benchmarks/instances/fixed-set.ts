import { FAMILIES } from '../../src/study/families/families.js';
import { generateInstance } from '../../src/study/families/generate.js';
import { instanceText } from '../../src/study/families/instance-text.js';
import { readOptions, type InstanceOptions } from '../../src/study/families/options.js';

/** Parts of the fifteen instances of a family; the seed is the place in the list, from 1. */
const SIZES = [6, 8, 10, 12, 14, 14, 16, 20, 25, 25, 30, 40, 60, 100, 200];

/** Dials in turn, so that each family has easy and hard ones of about every size. */
const BLOCKING = [0.5, 0.25, 1, 0.5, 0.75, 0, 0.9];
const GRIPPERS = [2, 4, 6, 3, 8, 5];
const SINGLE = [0.3, 0.6, 0.9, 0.4, 0.8];
const REGRIPS = [0, 0.2, 0.5, 0.1];

/** One instance of the set. */
export interface FixedInstance {
  readonly family: string;
  readonly options: InstanceOptions;
  /** Without folder. */
  readonly file: string;
  readonly text: string;
}

const inTurn = (list: readonly number[], i: number): number => list[i % list.length]!;

function fixedInstance(family: (typeof FAMILIES)[number], f: number, i: number): FixedInstance {
  const at = f + i;
  const options = readOptions({
    parts: SIZES[i]!,
    seed: i + 1,
    blocking: inTurn(BLOCKING, at),
    grippers: inTurn(GRIPPERS, at),
    single: inTurn(SINGLE, at),
    regrips: inTurn(REGRIPS, at),
  });
  if (!options.ok) throw new RangeError(options.error);
  const { weldment, about } = generateInstance(family, options.value, 'abstract');
  const { parts, seed } = options.value;
  return {
    family: family.name,
    options: options.value,
    file: `${family.name}-${parts}-${seed}.weldment.yaml`,
    text: instanceText(weldment, about),
  };
}

/** The sixty instances of `benchmarks/instances`: fifteen a family. */
export const fixedSet = (): readonly FixedInstance[] =>
  FAMILIES.flatMap((family, f) => SIZES.map((_, i) => fixedInstance(family, f, i)));

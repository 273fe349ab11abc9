import { stringify } from 'yaml';
import { readWeldment } from '../src/io/read-weldment.js';
import type { AbstractWeldment } from '../src/model/weldment.js';
import { findFamily } from '../src/study/families/families.js';
import { generateAbstract } from '../src/study/families/generate-abstract.js';
import { readOptions, type InstanceOptions } from '../src/study/families/options.js';

/** A generated weldment without shapes: its family and dials. */
export type AbstractCase = { readonly family: string; readonly parts: number } & Partial<InstanceOptions>;

/** As the reader gives it. */
export function generatedWeldment({ family, ...dials }: AbstractCase): AbstractWeldment {
  const options = readOptions(dials);
  if (!options.ok) throw new Error(options.error);
  const { value } = readWeldment(
    stringify(generateAbstract(findFamily(family)!, options.value)),
    'generated',
  );
  if (value?.kind !== 'abstract') throw new Error(`${family} is no weldment without shapes.`);
  return value;
}

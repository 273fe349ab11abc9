import { stringify } from 'yaml';
import { readWeldment } from '../../src/io/read-weldment.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { generateAbstract } from '../../src/study/families/generate-abstract.js';
import { readOptions, type InstanceOptions } from '../../src/study/families/options.js';
import type { Family } from '../../src/study/families/structure.js';

/** A generated weldment without shapes, as the reader gives it. */
export function generatedAbstract(
  family: Family,
  dials: { readonly parts: number } & Partial<InstanceOptions>,
): AbstractWeldment {
  const options = readOptions(dials);
  if (!options.ok) throw new RangeError(options.error);
  const { value } = readWeldment(stringify(generateAbstract(family, options.value)), 'generated.yaml');
  return value as AbstractWeldment;
}

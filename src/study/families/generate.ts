import { streamFor } from './dials.js';
import { generateAbstract } from './generate-abstract.js';
import { generateCell } from './generate-cell.js';
import { generateGeometric } from './generate-geometric.js';
import type { InstanceOptions } from './options.js';
import type { Family, Form } from './structure.js';

/** A generated weldment file and the cell file to go with one that has shapes, as plain values. */
export interface Generated {
  readonly weldment: object;
  readonly cell: object;
  /** Lines of comment that say how to make it again. */
  readonly about: readonly string[];
}

/** The command that makes an instance again, without the file names. */
function request({ name }: Family, options: InstanceOptions, form: Form): string {
  const { parts, seed, blocking, grippers, single, regrips } = options;
  const ways = form === 'abstract' ? ` --grippers ${grippers} --single ${single} --regrips ${regrips}` : '';
  return `tackwright generate ${name} --parts ${parts} --seed ${seed} --form ${form} --blocking ${blocking}${ways}`;
}

/** An instance in one of its two forms. Deterministic for a family, dials and form. */
export function generateInstance(family: Family, options: InstanceOptions, form: Form): Generated {
  const weldment =
    form === 'abstract' ? generateAbstract(family, options) : generateGeometric(family, options);
  const structure = family.build(options.parts, streamFor(options.seed, 'structure'), 'geometric');
  return {
    weldment,
    cell: generateCell(`${family.name}-${options.parts}-${options.seed}`, structure, family.grippers),
    about: ['Our own invention, made by a program:', request(family, options, form)],
  };
}

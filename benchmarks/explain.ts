import { parse } from 'yaml';
import type { LinearPrograms } from '../src/algorithms/linear-program.js';
import { Budget } from '../src/base/budget.js';
import { explainImpossible, type Impossibility } from '../src/planning/impossible.js';
import { factsOf, planWeldment } from '../src/planning/plan.js';
import { readInputs } from '../src/session/inputs.js';
import { shapedExamples } from './grip-density.js';
import { row, seconds } from './printing.js';

type File = Record<string, unknown>;

/** An example made impossible, by a change of its weldment and of the cell of the examples. */
export interface Variant {
  readonly name: string;
  readonly change: (weldment: File, cell: File) => void;
}

/** Our own variants of `ladder-bracket`, ten parts. */
export const VARIANTS: readonly Variant[] = [
  {
    name: 'rungs block each other',
    change: (weldment) => {
      weldment['blocking'] = [
        { part: 'rung-low', by: ['rung-middle'] },
        { part: 'rung-middle', by: ['rung-low'] },
      ];
    },
  },
  {
    name: 'the last part is to be the first',
    change: (weldment) => {
      weldment['first'] = 'gusset-far';
    },
  },
  {
    name: 'the infeed is out of reach',
    change: (_, cell) => {
      const { infeed } = cell['stations'] as Record<string, File>;
      infeed!['at'] = [-1250, -2600, 300];
    },
  },
  {
    name: 'the welder is too far away',
    change: (_, cell) => {
      const { welder } = cell['robots'] as Record<string, File>;
      welder!['at'] = [2400, 0, 0];
    },
  },
];

/** For a look that only shows that it runs: two of the five parts of `box-beam`. */
export const QUICK: readonly Variant[] = [
  {
    name: 'two parts block each other',
    change: (weldment) => {
      const [one, other] = Object.keys(weldment['parts'] as File).slice(-2);
      weldment['blocking'] = [
        { part: one, by: [other] },
        { part: other, by: [one] },
      ];
    },
  },
];

/** Seconds to the minimal sets of facts of variants of an example, after the search that proved that there is no plan. */
export function explaining(
  programs: LinearPrograms,
  example: string,
  variants: readonly Variant[],
  repeats: number,
): void {
  const { sources } = shapedExamples().find(({ name }) => name === example)!;
  for (const { name, change } of variants) {
    const weldment = parse(sources.weldment.text) as File;
    const cell = parse(sources.cell!.text) as File;
    change(weldment, cell);
    const changed = (file: File, source: { readonly name: string }) => ({
      ...source,
      text: JSON.stringify(file),
    });
    const { inputs, issues } = readInputs({
      ...sources,
      weldment: changed(weldment, sources.weldment),
      cell: changed(cell, sources.cell!),
    });
    if (!inputs || inputs.weldment.kind !== 'geometric')
      throw new Error(`the variant "${name}" was not read: ${JSON.stringify(issues)}`);
    const { weldment: read, settings } = inputs;
    let said: Impossibility | undefined;
    const times = Array.from({ length: repeats }, () => {
      const facts = factsOf(read, inputs.cell!, settings, programs);
      const budget = () => new Budget(settings.budget);
      const { outcome } = planWeldment(facts, { budget }).search;
      if (outcome !== 'impossible') throw new Error(`the variant "${name}" has a plan`);
      return seconds(() => {
        said = explainImpossible(facts, budget);
      });
    });
    const sets = [said!, ...said!.also].map(
      ({ reasons, needed }) => `${reasons.length} facts (${needed} needed)`,
    );
    row(`minimal set of ${example}: ${name}`, times, sets.join(', '));
  }
}

import { Budget } from '../../src/base/budget.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { abstractDocument, planAbstract } from '../../src/planning/abstract-plan.js';
import { checkAbstract } from '../../src/rules/check-abstract.js';
import type { FixedInstance } from './fixed-set.js';

/** Regrips, tool changes, milliseconds: the objective of a plan without settings, as far as it goes without shapes. */
export type Terms = readonly [number, number, number];

/** One line of the table. */
export interface KnownRow {
  readonly instance: string;
  readonly best: Terms;
  readonly bound: Terms;
  readonly proved: boolean;
  readonly solver: string;
  /** Budget by which all this is reached. */
  readonly steps: number;
}

const COLUMNS = [
  'instance',
  ...['best', 'bound'].flatMap((of) => ['regrips', 'tool-changes', 'milliseconds'].map((t) => `${of} ${t}`)),
  'proved',
  'solver',
  'steps',
];

export const nameOf = ({ file }: FixedInstance): string => file.replace('.weldment.yaml', '');

/**
 * Plans an instance with the search of `tackwright plan` and has the rules judge the plan.
 * @param steps budget @returns the row, and what the rules found, which should be nothing; undefined without a plan
 */
export function solved(
  instance: FixedInstance,
  steps: number,
): { readonly row: KnownRow; readonly findings: number } | undefined {
  const weldment = readWeldment(instance.text, instance.file).value as AbstractWeldment;
  const report = planAbstract(weldment, DEFAULT_SETTINGS, { budget: new Budget({ steps }) });
  if (report.best === undefined) return undefined;
  const source = { name: instance.file, digest: '' };
  const plan = abstractDocument(report, weldment, DEFAULT_SETTINGS, { weldment: source, warnings: [] });
  return {
    row: {
      instance: nameOf(instance),
      best: report.best.cost as unknown as Terms,
      bound: report.bound as unknown as Terms,
      proved: report.outcome === 'optimal',
      solver: 'plan',
      steps,
    },
    findings: checkAbstract(weldment, plan).length,
  };
}

export const tableText = (rows: readonly KnownRow[]): string =>
  [
    COLUMNS,
    ...rows.map(({ instance, best, bound, proved, solver, steps }) => [
      instance,
      ...best,
      ...bound,
      proved ? 'yes' : 'no',
      solver,
      steps,
    ]),
  ]
    .map((cells) => `${cells.join(',')}\n`)
    .join('');

/** Reads what `tableText` writes. */
export const readTable = (text: string): readonly KnownRow[] =>
  text
    .trimEnd()
    .split('\n')
    .slice(1)
    .map((line) => {
      const cells = line.split(',');
      const terms = (from: number): Terms => cells.slice(from, from + 3).map(Number) as unknown as Terms;
      return {
        instance: cells[0]!,
        best: terms(1),
        bound: terms(4),
        proved: cells[7] === 'yes',
        solver: cells[8]!,
        steps: Number(cells[9]),
      };
    });

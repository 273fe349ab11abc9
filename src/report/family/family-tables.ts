import type { FamilyResult, PlanFigures } from '../../model/family-result.js';
import type { ObjectiveTerm } from '../../model/settings.js';
import { csvTable, type CsvCell } from '../csv.js';
import { limitsText } from '../family-claim-text.js';
import type { TableFile } from '../plan-tables.js';
import { familyView } from './family-view.js';

const FIGURES = [
  ...['regrips', 'tool_changes', 'tacks', 'seconds', 'distortion_share', 'least_reserve', 'reserve_required'],
  ...['reserve_stage', 'reserve_case', 'reserve_weakest', 'plan'],
];

function figureCells(figures: PlanFigures | null | undefined): readonly CsvCell[] {
  if (figures === null || figures === undefined) return FIGURES.map(() => undefined);
  const { regrips, toolChanges, tacks, seconds, distortion, leastReserve: least, file } = figures;
  return [
    ...[regrips, toolChanges, tacks, seconds, distortion ?? undefined, least?.reserve, least?.required],
    ...[least?.stage, least?.case, least?.weakest, file ?? undefined],
  ];
}

/** The name of a term in a column, with its unit where it is no plain number. */
const COLUMNS: Readonly<Record<ObjectiveTerm, string>> = {
  regrips: 'regrips',
  'tool-changes': 'tool_changes',
  distortion: 'distortion_tenths_mm',
  time: 'time_tenths_s',
  wishes: 'wishes',
};

/** `variants.csv`: one row a variant with its values, and what it comes to by the pattern that builds it. */
function variantsTable(result: FamilyResult): TableFile {
  const view = familyView(result);
  const parameters = result.parameters.map(({ name }) => name);
  const heads = [
    ...['variant', 'source', ...parameters.map((name) => `value ${name}`), 'parts', 'outcome', 'built_by'],
    ...FIGURES,
    ...['own_plan', 'weldment', 'reasons'],
  ];
  const rows = result.variants.map((variant) => {
    const { name, source, values, parts, outcome, own, weldmentFile, reasons } = variant;
    const pattern = view.builtBy(name);
    const figures = pattern === undefined ? undefined : view.field(name, pattern)?.figures;
    return [
      ...[name, source, ...parameters.map((one) => valueCell(values[one])), parts, outcome, pattern],
      ...figureCells(figures),
      ...[own?.file ?? undefined, weldmentFile ?? undefined, reasons.length === 0 ? '' : limitsText(reasons)],
    ];
  });
  return { file: 'variants.csv', text: csvTable(heads, rows) };
}

const valueCell = (value: string | number | boolean | undefined): CsvCell =>
  typeof value === 'boolean' ? (value ? 'yes' : 'no') : value;

/** The terms by which the plans were compared: wishes are among them where some are soft, though the settings need not name them. */
const termsOf = ({ covering, settings }: FamilyResult): readonly ObjectiveTerm[] =>
  covering.extra.length > 0 ? covering.extra.map(({ term }) => term) : settings.objective;

/** `matrix.csv`: one row a variant and way of building, its own best plan among them. */
function matrixTable(result: FamilyResult): TableFile {
  const view = familyView(result);
  const objective = termsOf(result);
  const heads = [
    ...['variant', 'pattern', 'chosen', 'fits', ...objective.map((term) => `cost_${COLUMNS[term]}`)],
    ...objective.map((term) => `extra_${COLUMNS[term]}`),
    ...FIGURES,
    'reasons',
  ];
  const terms = (figures: PlanFigures | null): readonly CsvCell[] =>
    objective.map((term) => figures?.objective.find((one) => one.term === term)?.value);
  const yes = (one: boolean): string => (one ? 'yes' : 'no');
  const own = result.variants.map(({ name, own: figures, reasons }) => [
    ...[name, 'own', '', yes(figures !== null), ...terms(figures), ...objective.map(() => undefined)],
    ...figureCells(figures),
    reasons.length === 0 ? '' : limitsText(reasons),
  ]);
  const fields = result.matrix.map(({ variant, pattern, fits, figures, extra, reasons }) => [
    ...[variant, pattern, yes(view.builtBy(variant) === pattern), yes(fits), ...terms(figures)],
    ...objective.map((term) => extra?.find((one) => one.term === term)?.value),
    ...figureCells(figures),
    reasons.length === 0 ? '' : limitsText(reasons),
  ]);
  return { file: 'matrix.csv', text: csvTable(heads, [...own, ...fields]) };
}

/** The tables of a family (RFC 4180): its variants, and every field of the matrix with the own best plans. */
export const familyTables = (result: FamilyResult): readonly TableFile[] => [
  variantsTable(result),
  matrixTable(result),
];

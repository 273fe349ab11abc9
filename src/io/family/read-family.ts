import { familyFileSchema, type FamilyFile } from '../../model/family-file.js';
import type { Family, Variant } from '../../model/family.js';
import type { ParameterValue } from '../../model/family-result.js';
import { besidePathSchema } from '../../model/scalars.js';
import type { Issue } from '../../model/issue.js';
import { digest } from '../digest.js';
import { readDocument, type SourceDocument } from '../document.js';
import { hasError, inFileOrder, issueAt } from '../issue-at.js';
import { issuesOfZod } from '../issues-of-zod.js';
import { wrongKind } from '../kind-of-file.js';
import { membersAt } from '../raw-view.js';
import { valueAt } from '../schema-at.js';
import { BaseExpressions } from './base-expressions.js';
import { readBase } from './base.js';
import { readDefinitions } from './definitions.js';
import { judgeVariant, type FamilyParts } from './judge-variant.js';
import { columnIssues } from './table-columns.js';
import {
  besideName,
  fileOfVariant,
  variantRows,
  type FamilyBeside,
  type VariantRow,
} from './variant-rows.js';
import { kindOf, namesTwice, valuesOfRow, wrongValue, type VariantValues } from './variant-values.js';

export interface FamilyReading {
  /** Undefined with any error among the issues. */
  readonly family: Family | undefined;
  readonly issues: readonly Issue[];
}

/** The files that a family file names by plain paths below its own folder: the base weldment, the table of variants. */
export function filesBesideFamily(text: string): readonly string[] {
  const { document } = readDocument(text, '');
  // A weldment file has its name by the key by which a family file names the file of its base.
  if (document === undefined || wrongKind(document, 'family')) return [];
  return [['weldment'], ['variants', 'file']]
    .map((path) => valueAt(document.value, path))
    .filter((path): path is string => besidePathSchema.safeParse(path).success);
}

/**
 * Reads a family file (YAML or JSON) with the files that it names, which are in `beside` by the paths it writes for
 * them: texts, or tables where reading takes a while (XLSX). Every variant is worked out and judged as a weldment is,
 * overlapping parts among it. Issues about a variant have its name behind the name of the file, and the line of the
 * base or the table; what is wrong with every variant in the same way is told once.
 */
export function readFamily(text: string, file: string, beside: FamilyBeside = {}): FamilyReading {
  const { document, issues } = readDocument(text, file);
  if (document === undefined) return { family: undefined, issues };
  const wrong = wrongKind(document, 'family');
  if (wrong) return { family: undefined, issues: [wrong] };
  const parsed = familyFileSchema.safeParse(document.value);
  const schema = parsed.success ? [] : issuesOfZod(parsed.error.issues, familyFileSchema, document);
  const { parts, issues: inside } = readParts(document, beside);
  const { variants, issues: inVariants } = readVariants(document, beside);
  const told = [...inFileOrder([...issues, ...schema, ...defaults(document)]), ...inside, ...inVariants];
  if (!parsed.success || parts === undefined || hasError([...issues, ...schema, ...inside]))
    return { family: undefined, issues: told };
  return withVariants(parts, parsed.data, variants, told);
}

/** Definitions and base, with all that is wrong with their expressions whatever the variant. */
function readParts(
  document: SourceDocument,
  beside: FamilyBeside,
): { readonly parts: FamilyParts | undefined; readonly issues: readonly Issue[] } {
  const { definitions, issues } = readDefinitions(document);
  const textOf = (path: string): string | undefined => {
    const found = Object.hasOwn(beside, path) ? beside[path] : undefined;
    return typeof found === 'string' ? found : undefined;
  };
  const { base, issues: inBase } = readBase(document, textOf, (path) => besideName(document.file, path));
  if (base === undefined) return { parts: undefined, issues: [...issues, ...inBase] };
  const expressions = new BaseExpressions();
  const known = [
    ...definitions.parameters,
    ...membersAt(document.value, ['let']).map(({ path }) => String(path[1])),
  ];
  const inExpressions = expressions.issues(base, known);
  const name = String(valueAt(document.value, ['family']));
  const parts = { document, definitions, base, expressions, name };
  const units = String(valueAt(document.value, ['units']));
  const here = [...issues, ...(base.document === document ? [...inBase, ...inExpressions] : [])];
  const there = base.document === document ? [] : [...inBase, ...inExpressions];
  return { parts: { ...parts, units }, issues: [...inFileOrder(here), ...inFileOrder(there)] };
}

/** The parameters where they are sound, whatever else is wrong with the file. */
const parametersOf = ({ value }: SourceDocument): FamilyFile['parameters'] | undefined =>
  familyFileSchema.shape.parameters.safeParse(valueAt(value, ['parameters'])).data;

/** Defaults of parameters that are none of their values. */
const defaults = (document: SourceDocument): readonly Issue[] =>
  Object.entries(parametersOf(document) ?? {}).flatMap(([word, parameter]) => {
    const value = parameter.default;
    const complaint = value === undefined ? undefined : wrongValue(word, parameter, value);
    return complaint ? [issueAt(document, ['parameters', word, 'default'], complaint)] : [];
  });

function readVariants(
  document: SourceDocument,
  beside: FamilyBeside,
): { readonly variants: readonly VariantValues[]; readonly issues: readonly Issue[] } {
  // Without sound parameters nothing can be said of values.
  const parameters = parametersOf(document);
  if (parameters === undefined) return { variants: [], issues: [] };
  const texts = Object.keys(parameters).filter((word) => kindOf(parameters[word]!) === 'string');
  const { table, rows, issues } = variantRows(document, beside, texts);
  const columns = table === undefined ? [] : columnIssues(table, parameters);
  if (columns.length > 0) return { variants: [], issues: [...issues, ...columns] };
  const variants = rows.map((row) => valuesOfRow(row, parameters, table !== undefined));
  const twice = namesTwice(rows);
  const inRows = inFileOrder([...variants.flatMap((variant) => variant.issues), ...twice]);
  return { variants, issues: [...issues, ...inRows] };
}

/** Works out every variant whose values are sound. */
function withVariants(
  parts: FamilyParts,
  file: FamilyFile,
  rows: readonly VariantValues[],
  before: readonly Issue[],
): FamilyReading {
  const sound = rows.flatMap(({ name, values }) => (values === undefined ? [] : [{ name, values }]));
  const judged = sound.map(({ name, values }) => judgeVariant(parts, name, values));
  const names = sound.map(({ name }) => name);
  const issues = [
    ...before,
    ...toldOnce(
      judged.map((one) => one.issues),
      names,
      [parts.base.document.file, parts.document.file],
    ),
  ];
  const variants = judged.flatMap(({ variant }) => (variant === undefined ? [] : [variant]));
  if (hasError(issues)) return { family: undefined, issues };
  return { family: familyOf(parts, file, variants), issues };
}

/** The issues of each variant, which are about one of `files`; one that all of several variants have is told once, as that. */
function toldOnce(
  issues: readonly (readonly Issue[])[],
  names: readonly string[],
  files: readonly string[],
): readonly Issue[] {
  if (issues.length < 2) return issues.flat();
  const every = issues.map((list, i) =>
    list.map((issue) => {
      const about = files.find((file) => issue.file === fileOfVariant(file, names[i])) ?? issue.file;
      return { ...issue, file: fileOfVariant(about, 'every variant') };
    }),
  );
  const keys = every.map((list) => new Set(list.map((issue) => JSON.stringify(issue))));
  const inAll = (issue: Issue): boolean => keys.every((set) => set.has(JSON.stringify(issue)));
  const own = issues.flatMap((list, i) => list.filter((_, k) => !inAll(every[i]![k]!)));
  return [...every[0]!.filter(inAll), ...own];
}

function familyOf(parts: FamilyParts, file: FamilyFile, variants: readonly Variant[]): Family {
  const { parameters } = file;
  return {
    name: file.family,
    digest: digest({ file, base: parts.base.value, variants }),
    parameters: Object.entries(parameters).map(([name, { unit, range, resolution }]) => ({
      name,
      unit,
      range: range && { low: range[0], high: range[1], resolution },
    })),
    variants,
    variantOf: (name, values) => variantAt(parts, parameters, name, values),
  };
}

/** A variant of values that no row gives: a place in the ranges. What is left out has its default. */
function variantAt(
  parts: FamilyParts,
  parameters: FamilyFile['parameters'],
  name: string,
  values: Readonly<Record<string, ParameterValue>>,
): ReturnType<Family['variantOf']> {
  const document = { ...parts.document, file: fileOfVariant(parts.document.file, name) };
  const row: VariantRow = {
    ...{ name, line: 0, given: new Map(Object.entries(values)) },
    issue: (word, complaint) =>
      issueAt(document, word === undefined ? ['parameters'] : ['parameters', word], complaint),
  };
  const read = valuesOfRow(row, parameters, false);
  if (read.values === undefined) return { variant: undefined, issues: read.issues };
  return judgeVariant(parts, name, read.values);
}

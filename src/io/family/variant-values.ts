import { givenValueSchema, type ParameterFile } from '../../model/family-file.js';
import type { ParameterValue } from '../../model/family-result.js';
import { nameSchema } from '../../model/scalars.js';
import type { Issue } from '../../model/issue.js';
import type { Complaint } from '../issue-at.js';
import { nearestWord } from '../nearest-word.js';
import { printable, showNames, showValue } from '../show.js';
import type { VariantRow } from './variant-rows.js';

export type Parameters = Readonly<Record<string, ParameterFile>>;

/** A variant by name and values, in the order of the parameters; values only where nothing is wrong with them. */
export interface VariantValues {
  readonly name: string;
  readonly values: ReadonlyMap<string, ParameterValue> | undefined;
  readonly issues: readonly Issue[];
}

type Kind = 'number' | 'boolean' | 'string';

const WORDS: Readonly<Record<Kind, string>> = {
  number: 'a number',
  boolean: 'true or false',
  string: 'a text',
};

/** What kind of value a parameter has; undefined where the file does not say. */
export function kindOf({ default: value, range, unit }: ParameterFile): Kind | undefined {
  if (range !== undefined || unit !== undefined) return 'number';
  return value === undefined ? undefined : (typeof value as Kind);
}

/** The complaint about a value of a parameter, if there is one. */
export function wrongValue(name: string, parameter: ParameterFile, value: unknown): Complaint | undefined {
  const kind = kindOf(parameter);
  if (!givenValueSchema.safeParse(value).success || (kind !== undefined && typeof value !== kind))
    return {
      code: 'value-kind',
      problem: `${name} is ${showValue(value)}`,
      remedy: `give ${kind === undefined ? 'a number, true or false, or a text on one line' : WORDS[kind]}`,
    };
  const { range, unit } = parameter;
  if (range === undefined || typeof value !== 'number' || (value >= range[0] && value <= range[1]))
    return undefined;
  const units = unit === undefined ? '' : ` ${unit}`;
  return {
    code: 'value-out-of-range',
    problem: `${name} is ${value}${units}`,
    remedy: `give ${range[0]} to ${range[1]}${units}, or widen \`range\` of the parameter`,
  };
}

/** The values of a row; `fromTable`: a number may stand for a text, since spreadsheets make numbers of texts. */
export function valuesOfRow(row: VariantRow, parameters: Parameters, fromTable: boolean): VariantValues {
  const { name, given, issue } = row;
  const named = nameSchema.safeParse(name);
  const issues: Issue[] = [];
  // Of the file's own list, its schema tells.
  if (!named.success && fromTable)
    issues.push(
      issue('name', {
        code: 'name',
        problem: `the name of the variant is ${showValue(name)}`,
        remedy: 'give 1 to 80 printable characters',
      }),
    );
  if (!fromTable) issues.push(...strangers(row, parameters));
  const values = new Map<string, ParameterValue>();
  for (const [word, parameter] of Object.entries(parameters)) {
    const written = given.get(word) ?? parameter.default;
    const value =
      fromTable && kindOf(parameter) === 'string' && typeof written === 'number' ? String(written) : written;
    const complaint =
      value === undefined ? missing(word, given.has(word)) : wrongValue(word, parameter, value);
    if (complaint !== undefined && (given.has(word) || value === undefined))
      issues.push(issue(given.has(word) ? word : undefined, complaint));
    else values.set(word, value as ParameterValue);
  }
  return { name: named.success ? named.data : '', values: issues.length > 0 ? undefined : values, issues };
}

const missing = (word: string, written: boolean): Complaint => ({
  code: 'value-missing',
  problem: `${word} ${written ? 'is given no value' : 'is not given, and it has no default'}`,
  remedy: 'give it, or a `default` of the parameter',
});

/** What a variant gives that is no parameter. */
const strangers = ({ given, issue }: VariantRow, parameters: Parameters): readonly Issue[] =>
  [...given.keys()]
    .filter((word) => !Object.hasOwn(parameters, word))
    .map((word) =>
      issue(word, {
        code: 'unknown-parameter',
        problem: `there is no parameter \`${printable(word)}\``,
        remedy: maybe(word, Object.keys(parameters)),
      }),
    );

/** The nearest of some words, or all of them. */
export function maybe(word: string, known: readonly string[]): string {
  const nearest = nearestWord(word, known);
  if (nearest !== undefined) return `maybe \`${nearest}\``;
  return known.length === 0 ? 'there are none' : `known are ${showNames(known)}`;
}

/** Variants that are called as an earlier one. */
export function namesTwice(rows: readonly VariantRow[]): readonly Issue[] {
  const first = new Map<string, VariantRow>();
  return rows.flatMap((row) => {
    if (typeof row.name !== 'string') return [];
    const earlier = first.get(row.name);
    if (earlier === undefined) {
      first.set(row.name, row);
      return [];
    }
    return [
      row.issue('name', {
        code: 'duplicate-variant',
        problem: `the name is that of another variant, at line ${earlier.line}`,
        remedy: 'give each variant a name of its own',
      }),
    ];
  });
}

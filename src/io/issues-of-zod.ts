import type { z } from 'zod';
import type { Issue } from '../model/issue.js';
import type { SourceDocument } from './document.js';
import type { Complaint } from './issue-at.js';
import { issueAt } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import type { SchemaPlace } from './schema-at.js';
import { kindInWords, knownKeys, schemaAt, valueAt } from './schema-at.js';
import type { Path } from './show.js';
import { printable, showNames, showValue } from './show.js';

type ZodIssue = z.core.$ZodIssue;

/** One place of the document where the schema is not met. */
interface Spot {
  readonly path: Path;
  readonly value: unknown;
  readonly place: SchemaPlace | undefined;
}

/**
 * The issues of a document that zod found with `schema`: one for each defect, with its line, the offending value and
 * what would be right. Where the value of a union matches no option, the issues of the option it comes closest to are
 * given.
 */
export function issuesOfZod(
  issues: readonly ZodIssue[],
  schema: z.core.$ZodType,
  document: SourceDocument,
): readonly Issue[] {
  return issues.flatMap((issue) => {
    const spot = spotAt(schema, document, issue.path);
    if (issue.code === 'unrecognized_keys')
      return issue.keys.map((key) => issueAt(document, [...issue.path, key], unknownKey(key, spot)));
    if (issue.code === 'invalid_union') {
      const closest = closestOption(issue);
      if (closest !== undefined) return issuesOfZod(closest, schema, document);
    }
    return [issueAt(document, issue.path, complaintOf(issue, spot))];
  });
}

const spotAt = (schema: z.core.$ZodType, document: SourceDocument, path: Path): Spot => ({
  path,
  value: valueAt(document.value, path),
  place: schemaAt(schema, path, document.value),
});

function unknownKey(key: string, { place, value }: Spot): Complaint {
  const known = place === undefined ? [] : knownKeys(place.schema);
  // A key that is there already is not the one that was meant.
  const open = known.filter((one) => valueAt(value, [one]) === undefined);
  const nearest = nearestWord(key, open);
  return {
    code: 'unknown-key',
    problem: `unknown key \`${printable(key)}\``,
    remedy: nearest === undefined ? `known here: ${showNames(known)}` : `maybe \`${nearest}\``,
  };
}

/**
 * The issues of the option that was meant, with full paths: the one whose kind of value (map, list, number) is right,
 * of several maps the one with the fewest keys that it does not know (the first of equals).
 */
function closestOption(issue: z.core.$ZodIssueInvalidUnion): readonly ZodIssue[] | undefined {
  const sameKind = issue.errors.filter(
    (errors) => !errors.some((e) => e.path.length === 0 && WRONG_KIND.has(e.code)),
  );
  const unknown = sameKind.map(strangeKeys);
  const closest = sameKind[unknown.indexOf(Math.min(...unknown))];
  return closest?.map((inner) => ({ ...inner, path: [...issue.path, ...inner.path] }));
}

const strangeKeys = (errors: readonly ZodIssue[]): number =>
  errors.reduce(
    (sum, error) =>
      sum + (error.code === 'unrecognized_keys' && error.path.length === 0 ? error.keys.length : 0),
    0,
  );

const WRONG_KIND: ReadonlySet<string> = new Set(['invalid_type', 'invalid_value']);

function complaintOf(issue: ZodIssue, spot: Spot): Complaint {
  if (spot.value === undefined && issue.code !== 'invalid_key')
    return { code: 'missing', problem: 'is missing', remedy: whatToAdd(issue, spot) };
  switch (issue.code) {
    case 'invalid_type':
      return wrongKind(spot);
    case 'invalid_value':
    case 'invalid_union':
      return wrongChoice(choicesOf(issue), spot, orElse(issue));
    case 'too_small':
    case 'too_big':
      return outOfRange(issue, spot);
    case 'invalid_key':
      return wrongName(issue);
    default:
      return broken(issue.message, spot);
  }
}

const got = (value: unknown): string => `got ${showValue(value)}`;

/** The meaning of the place in brackets, when the schema gives one. */
const inBrackets = ({ place }: Spot): string =>
  place?.description === undefined ? '' : ` (${place.description})`;

function whatToAdd(issue: ZodIssue, spot: Spot): string {
  const choices = choicesOf(issue);
  const key = printable(String(spot.path.at(-1) ?? ''));
  if (choices.length === 1) return `write ${key}: ${choices[0]}`;
  if (choices.length > 1) return `add it, one of ${choices.join(', ')}`;
  const kind = spot.place === undefined ? 'a value' : kindInWords(spot.place.schema);
  return `add it, ${kind}${inBrackets(spot)}`;
}

function wrongKind(spot: Spot): Complaint {
  const { value, place } = spot;
  const kind = place === undefined ? 'another value' : kindInWords(place.schema);
  const complaint = { code: 'kind', problem: got(value) };
  if (kind === 'a text' && typeof value === 'number')
    return { ...complaint, remedy: `write it in quotes: "${value}"` };
  const asNumber = typeof value === 'string' && value.trim() !== '' ? Number(value) : NaN;
  if (kind.endsWith(' number') && Number.isFinite(asNumber))
    return { ...complaint, remedy: `write it without quotes: ${asNumber}` };
  return { ...complaint, remedy: `give ${kind}${inBrackets(spot)}` };
}

/** The values that are allowed, as they are written in a file; empty when the issue is of another kind. */
function choicesOf(issue: ZodIssue): readonly string[] {
  if (issue.code === 'invalid_value') return issue.values.map(String);
  if (issue.code !== 'invalid_union') return [];
  if ('options' in issue && Array.isArray(issue.options)) return issue.options.map(String);
  return issue.errors.flatMap((errors) => errors.flatMap(choicesOf));
}

/** What may stand there instead of one of the words. */
const orElse = (issue: ZodIssue): string => {
  const lists = (errors: readonly ZodIssue[]): boolean =>
    errors.some((one) => one.code === 'invalid_type' && one.expected === 'array' && one.path.length === 0);
  return issue.code === 'invalid_union' && issue.errors.some(lists) ? ', or give a list' : '';
};

function wrongChoice(choices: readonly string[], spot: Spot, orGive: string): Complaint {
  const complaint = { code: 'choice', problem: got(spot.value) };
  const key = printable(String(spot.path.at(-1) ?? ''));
  if (choices.length === 0) return { ...complaint, ...wrongKind(spot) };
  if (choices.length === 1) return { ...complaint, remedy: `write ${key}: ${choices[0]}` };
  const nearest = typeof spot.value === 'string' ? nearestWord(spot.value, choices) : undefined;
  const maybe = nearest === undefined ? '' : `maybe \`${nearest}\`: `;
  return { ...complaint, remedy: `${maybe}use one of ${choices.join(', ')}${orGive}` };
}

function outOfRange(issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig, spot: Spot): Complaint {
  const { value, place } = spot;
  if (issue.origin === 'string')
    return { code: 'name', problem: got(value), remedy: `give ${place?.description ?? 'another text'}` };
  const small = issue.code === 'too_small';
  const limit = Number(small ? issue.minimum : issue.maximum);
  if (issue.origin === 'array' && Array.isArray(value)) {
    const exact = issue.exact === true || place?.schema._zod.def.type === 'tuple';
    const howMany = exact ? 'exactly' : small ? 'at least' : 'at most';
    const entries = value.length === 1 ? '1 entry' : `${value.length} entries`;
    return {
      code: 'length',
      problem: `${got(value)}, ${entries}`,
      remedy: `give ${howMany} ${limit}${inBrackets(spot)}`,
    };
  }
  const side = small ? (issue.inclusive ? 'at least' : 'above') : issue.inclusive ? 'at most' : 'below';
  return { code: 'range', problem: got(value), remedy: `give ${side} ${limit}${inBrackets(spot)}` };
}

function wrongName(issue: z.core.$ZodIssueInvalidKey): Complaint {
  const name = String(issue.path.at(-1) ?? '');
  const why = issue.issues.map(({ code, message }) => (code === 'custom' ? `, which ${message}` : ''));
  const form = issue.issues.find(({ code }) => code === 'invalid_format');
  return {
    code: 'name',
    problem: `got the name ${showValue(name)}${why.join('')}`,
    remedy: form === undefined ? 'use a name: 1 to 80 printable characters' : `it ${form.message}`,
  };
}

/** A refinement that failed: its own words say what would be right ("must ..."), or what is wrong ("is ..."). */
const broken = (message: string, spot: Spot): Complaint =>
  message.startsWith('is ')
    ? {
        code: 'rule',
        problem: `${got(spot.value)}, which ${message}`,
        remedy: `give ${spot.place?.description ?? 'another value'}`,
      }
    : { code: 'rule', problem: got(spot.value), remedy: message };

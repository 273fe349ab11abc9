import { CsvError, parse, type Info } from 'csv-parse/sync';
import type { Vec3 } from '../geometry/vector.js';
import type { Issue } from '../model/issue.js';
import { DIRECTIONS, type Measurement } from '../model/measurement.js';
import { LONGEST_TEXT } from './document.js';
import { hasError, inFileOrder } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import { printable, showNames, showValue } from './show.js';

const NEEDED = ['step', 'part', 'direction', 'millimetres'] as const;
const PLACE = ['at_x', 'at_y', 'at_z'] as const;
const COLUMNS = [...NEEDED, ...PLACE] as const;
type Column = (typeof COLUMNS)[number];

/** More than this is taken for a coordinate, not for a deviation, mm (our choice). */
const MOST_DEVIATION = 100;
/** As far as any point of a weldment file may be from its origin, mm. */
const FARTHEST = 1_000_000;

interface Row {
  readonly line: number;
  readonly fields: readonly string[];
}

type Complain = (line: number, path: string, problem: string, remedy: string) => void;

/** What came of reading measurements; with any error among the issues there are none. */
export interface MeasurementReading {
  readonly value: readonly Measurement[] | undefined;
  readonly issues: readonly Issue[];
}

/**
 * Reads measured deviations: comma-separated values (RFC 4180) with a line of column names. Needed are `step`, `part`,
 * `direction` and `millimetres`, in any order; `at_x`, `at_y`, `at_z` may say which point of the part was measured.
 * Empty lines and lines that start with # are passed over.
 */
export function readMeasurements(text: string, file: string): MeasurementReading {
  const issues: Issue[] = [];
  const complain: Complain = (line, path, problem, remedy) =>
    issues.push({ code: 'measurement', severity: 'error', ...{ file, line, path, problem, remedy } });
  const [head, ...rows] = rowsOf(text, complain);
  const columns = head && columnsOf(head, complain);
  if (head && rows.length === 0)
    complain(head.line, '', 'there is no measurement below the column names', 'write one a line');
  const value = columns && rows.map((row) => measurementOf(row, columns, head!.fields.length, complain));
  return hasError(issues)
    ? { value: undefined, issues: inFileOrder(issues) }
    : { value: value?.filter((one) => one !== undefined), issues };
}

function rowsOf(text: string, complain: Complain): readonly Row[] {
  if (text.length > LONGEST_TEXT) {
    complain(0, '', `the file has ${text.length} characters`, `at most ${LONGEST_TEXT} are read`);
    return [];
  }
  try {
    const records = parse(text, {
      ...{ bom: true, info: true, trim: true, comment: '#', comment_no_infix: true },
      ...{ skip_empty_lines: true, relax_column_count: true },
    }) as unknown as readonly { readonly record: string[]; readonly info: Info }[];
    if (records.length === 0)
      complain(0, '', 'the file is empty', `begin with the column names ${NEEDED.join(',')}`);
    return records.map(({ record, info }) => ({ line: info.lines, fields: record }));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = (error as unknown as { readonly lines?: number }).lines ?? 0;
    complain(
      line,
      '',
      'a quotation mark is not closed or stands inside a plain field',
      'write "..." round the whole field, and two marks for one inside it',
    );
    return [];
  }
}

/** The place of each column; undefined when the line of names cannot be used. */
function columnsOf({ line, fields }: Row, complain: Complain): ReadonlyMap<Column, number> | undefined {
  if (fields.length === 1 && fields[0]!.includes(';')) {
    complain(
      line,
      '',
      'columns are separated by semicolons',
      'save the file with commas, and with points in numbers',
    );
    return undefined;
  }
  const columns = new Map<Column, number>();
  for (const [i, name] of fields.entries()) {
    const known = COLUMNS.find((column) => column === name);
    if (known === undefined) {
      const meant = nearestWord(name, COLUMNS);
      complain(
        line,
        printable(name),
        `${showValue(name)} is no column`,
        meant ? `did you mean ${meant}?` : `columns are ${COLUMNS.join(', ')}`,
      );
    } else if (columns.has(known)) complain(line, known, 'the column is given twice', 'keep one of them');
    else columns.set(known, i);
  }
  const place = PLACE.some((column) => columns.has(column)) ? PLACE : [];
  const missing = [...NEEDED, ...place].filter((column) => !columns.has(column));
  for (const column of missing)
    complain(line, column, 'the column is missing', `name the columns ${[...NEEDED, ...place].join(',')}`);
  return missing.length === 0 ? columns : undefined;
}

function measurementOf(
  { line, fields }: Row,
  columns: ReadonlyMap<Column, number>,
  width: number,
  complain: Complain,
): Measurement | undefined {
  if (fields.length !== width) {
    complain(
      line,
      '',
      `the line has ${fields.length} fields`,
      `write ${width}, as in the line of column names`,
    );
    return undefined;
  }
  const field = (column: Column): string => fields[columns.get(column) ?? -1] ?? '';
  const [step, part] = (['step', 'part'] as const).map((column) => {
    if (field(column) === '') complain(line, column, 'the field is empty', 'fill it in');
    return field(column);
  });
  const direction = DIRECTIONS.find((one) => one === field('direction').toLowerCase());
  if (direction === undefined)
    complain(
      line,
      'direction',
      `${showValue(field('direction'))} is no direction`,
      `write ${showNames(DIRECTIONS)}: an axis of the weldment frame, or the bow of a slender member`,
    );
  const millimetres = numberOf(field('millimetres'), MOST_DEVIATION, (problem) =>
    complain(
      line,
      'millimetres',
      problem,
      `write how far the point is off its nominal place, from -${MOST_DEVIATION} to ${MOST_DEVIATION} mm`,
    ),
  );
  const at = placeOf(field, line, complain);
  if (direction === undefined || millimetres === undefined) return undefined;
  return { line, step: step!, part: part!, direction, millimetres, at };
}

/** The point measured; undefined when none of its fields is filled in. */
function placeOf(field: (column: Column) => string, line: number, complain: Complain): Vec3 | undefined {
  if (PLACE.every((column) => field(column) === '')) return undefined;
  const at = PLACE.map((column) =>
    numberOf(field(column), FARTHEST, (problem) =>
      complain(
        line,
        column,
        problem,
        'write a coordinate in the weldment frame, mm, or leave all three empty',
      ),
    ),
  );
  return [at[0] ?? 0, at[1] ?? 0, at[2] ?? 0];
}

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

function numberOf(text: string, most: number, complain: (problem: string) => void): number | undefined {
  const value = Number(text);
  if (!NUMBER.test(text)) complain(text === '' ? 'the field is empty' : `${showValue(text)} is no number`);
  else if (Math.abs(value) > most) complain(`${printable(text)} is out of range`);
  else return value;
  return undefined;
}

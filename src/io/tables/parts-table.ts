import type { Issue } from '../../model/issue.js';
import { SHAPE_KEYS, shapeFields, type ShapeKey } from '../../model/shape.js';
import { nearestWord } from '../nearest-word.js';
import { knownKeys } from '../schema-at.js';
import { showPath, showValue } from '../show.js';
import { columnsOf, type ColumnKind, type ColumnSet } from './column-set.js';
import type { Table, TableOptions } from './table.js';
import { RowCells, type Origin } from './table-cells.js';

const SIZES = ['length', 'width', 'height', 'thickness', 'diameter', 'wall', 'web', 'flange'] as const;
const PLACE = ['x', 'y', 'z'] as const;
const TURN = ['roll', 'pitch', 'yaw'] as const;

const kindsOf = (names: readonly string[], kind: ColumnKind): Record<string, ColumnKind> =>
  Object.fromEntries(names.map((name) => [name, kind]));

/** The columns of a table of parts. */
const PART_COLUMNS: ColumnSet = {
  kinds: {
    part: 'text',
    shape: 'text',
    ...kindsOf(SIZES, 'mm'),
    ...kindsOf(['outline', 'holes'], 'mm'),
    material: 'text',
    mass: 'kg',
    ...kindsOf(PLACE, 'mm'),
    ...kindsOf(TURN, 'deg'),
    rest: 'text',
  },
  needed: ['part', 'shape', ...PLACE],
};

/** For the reader of the table: which columns hold texts, and which name a row. */
export const PART_TABLE: TableOptions = {
  texts: ['part', 'shape', 'outline', 'holes', 'material', 'rest'],
  keys: ['part'],
};

/** Names of sections as workshops write them, for the keys of a weldment file. */
const TRADE_NAMES: Readonly<Record<string, ShapeKey>> = {
  rhs: 'rectangular-hollow-section',
  shs: 'rectangular-hollow-section',
  chs: 'round-hollow-section',
  tube: 'round-hollow-section',
  flat: 'flat-bar',
};

/** Entries of a weldment file made of rows, and the cell that each value came from, by its path in that file. */
export interface TabledParts {
  readonly parts: Readonly<Record<string, object>>;
  readonly origins: ReadonlyMap<string, Origin>;
  readonly issues: readonly Issue[];
}

/** The parts that a table has, a row each, as a weldment file gives them. What a weldment file asks of them is not judged. */
export function partsOfTable(table: Table): TabledParts {
  const { columns, issues: found } = columnsOf(table, PART_COLUMNS);
  const issues: Issue[] = [...found];
  const parts = new Map<string, object>();
  const origins = new Map<string, Origin>();
  if (issues.length === 0 && table.rows.length === 0)
    issues.push({
      ...{ code: 'table-cell', severity: 'error', file: table.file, line: table.namesLine, path: '' },
      ...{ problem: 'there is no part below the column names', remedy: 'write one a row' },
    });
  for (const row of issues.length > 0 ? [] : table.rows) {
    const cells = new RowCells(table, columns, row, issues);
    const name = cells.neededText('part');
    if (name === undefined) continue;
    if (parts.has(name)) {
      const { line } = origins.get(showPath(['parts', name]))!;
      cells.complain(
        'part',
        `${showValue(name)} is there already, in row ${line}`,
        'give every part its own name',
      );
      continue;
    }
    origins.set(showPath(['parts', name]), cells.origin('part'));
    parts.set(name, partOf(name, cells, origins));
  }
  return { parts: Object.fromEntries(parts), origins, issues };
}

function partOf(name: string, cells: RowCells, origins: Map<string, Origin>): object {
  const at = (column: string, ...path: readonly (string | number)[]): void => {
    origins.set(showPath(['parts', name, ...path]), cells.origin(column));
  };
  const key = shapeKeyOf(cells);
  const shape = key === undefined ? undefined : shapeOf(key, cells, (column) => at(column, key, column));
  if (key !== undefined) at('shape', key);
  const place = PLACE.map((column) => {
    if (!cells.isFilled(column))
      cells.complain(column, 'the cell is empty', 'write where the middle of the part is; 0 for none');
    return cells.number(column) ?? 0;
  });
  const turn = TURN.map((column) => cells.number(column) ?? 0);
  PLACE.forEach((column, i) => at(column, 'at', i));
  TURN.forEach((column, i) => at(column, 'turn', i));
  const others = { material: cells.text('material'), mass: cells.number('mass'), rest: cells.text('rest') };
  for (const column of Object.keys(others)) at(column, column);
  return {
    ...(key === undefined ? {} : { [key]: shape }),
    at: place,
    ...(turn.some((angle) => angle !== 0) ? { turn } : {}),
    ...Object.fromEntries(Object.entries(others).filter(([, value]) => value !== undefined)),
  };
}

function shapeKeyOf(cells: RowCells): ShapeKey | undefined {
  const written = cells.neededText('shape');
  if (written === undefined) return undefined;
  const word = written.toLowerCase().replaceAll(/[\s_]+/g, '-');
  const key =
    SHAPE_KEYS.find((one) => one === word) ??
    (Object.hasOwn(TRADE_NAMES, word) ? TRADE_NAMES[word] : undefined);
  if (key !== undefined) return key;
  const meant = nearestWord(word, [...SHAPE_KEYS, ...Object.keys(TRADE_NAMES)]);
  const maybe = meant === undefined ? '' : `maybe \`${meant}\`: `;
  return cells.complain(
    'shape',
    `${showValue(written)} is no shape`,
    `${maybe}use one of ${SHAPE_KEYS.join(', ')}`,
  );
}

/** The sizes of a shape; what it does not have is told, what it lacks is left to the schema of weldment files. */
function shapeOf(key: ShapeKey, cells: RowCells, at: (column: string) => void): object {
  const own = knownKeys(shapeFields[key].unwrap());
  for (const column of [...SIZES, 'outline', 'holes'])
    if (own.includes(column)) at(column);
    else if (cells.isFilled(column))
      cells.complain(column, `a ${key} has no ${column}`, `empty the cell: it has ${own.join(', ')}`);
  const sizes = SIZES.filter((column) => own.includes(column)).map(
    (column) => [column, cells.number(column)] as const,
  );
  const outline = own.includes('outline')
    ? cells.groups('outline', 2, 'two coordinates of a corner, as `60 0`')
    : undefined;
  const holes = own.includes('holes')
    ? cells
        .groups('holes', 3, 'the place and the diameter of a hole, as `70 0 30`')
        ?.map(([x, y, diameter]) => ({ at: [x, y], diameter }))
    : undefined;
  const all = [...sizes, ['outline', outline], ['holes', holes]] as const;
  return Object.fromEntries(all.filter(([, value]) => value !== undefined));
}

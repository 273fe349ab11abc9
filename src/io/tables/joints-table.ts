import type { Issue } from '../../model/issue.js';
import { showPath, showValue } from '../show.js';
import { columnsOf, type ColumnSet } from './column-set.js';
import type { Table, TableOptions } from './table.js';
import { RowCells, type Origin } from './table-cells.js';

/** The columns of a table of joints. */
const JOINT_COLUMNS: ColumnSet = {
  kinds: { a: 'text', b: 'text', type: 'text', leg: 'mm', sides: 'text', open: 'text' },
  needed: ['a', 'b'],
};

/** For the reader of the table: which columns hold texts, and which name a row. */
export const JOINT_TABLE: TableOptions = { texts: ['a', 'b', 'type', 'sides', 'open'], keys: ['a', 'b'] };

export interface TabledJoints {
  readonly joints: readonly object[];
  readonly origins: ReadonlyMap<string, Origin>;
  readonly issues: readonly Issue[];
}

/** The joints that a table has, a row each, as a weldment file gives them. */
export function jointsOfTable(table: Table): TabledJoints {
  const { columns, issues: found } = columnsOf(table, JOINT_COLUMNS);
  const issues: Issue[] = [...found];
  const joints: object[] = [];
  const origins = new Map<string, Origin>();
  const rows = new Map<string, number>();
  for (const row of found.length > 0 ? [] : table.rows) {
    const cells = new RowCells(table, columns, row, issues);
    const between = [cells.neededText('a'), cells.neededText('b')];
    if (between.includes(undefined)) continue;
    const pair = JSON.stringify(between.toSorted());
    const earlier = rows.get(pair);
    if (earlier !== undefined) {
      const both = between.map(showValue).join(' and ');
      cells.complain(
        'b',
        `${both} are joined already, in row ${earlier}`,
        'keep one row for a pair of parts',
      );
      continue;
    }
    rows.set(pair, row.line);
    const at = (column: string, ...path: readonly (string | number)[]): unknown =>
      origins.set(showPath(['joints', joints.length, ...path]), cells.origin(column));
    at('a');
    at('a', 'between', 0);
    at('b', 'between', 1);
    for (const column of ['type', 'leg', 'sides', 'open']) at(column, column);
    joints.push(jointOf(between as string[], cells));
  }
  return { joints, origins, issues };
}

function jointOf(between: readonly string[], cells: RowCells): object {
  const given = {
    type: cells.text('type')?.toLowerCase(),
    leg: cells.number('leg'),
    sides: cells.text('sides')?.toLowerCase(),
    open: cells.groups('open', 3, 'a direction, as `0 1 0`')?.[0],
  };
  return { between, ...Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) };
}

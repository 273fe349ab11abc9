import type { Issue } from '../../model/issue.js';
import { printable, showValue } from '../show.js';
import type { Columns } from './column-set.js';
import type { Table, TableRow } from './table.js';

/** Where a value of a weldment came from. */
export interface Origin {
  readonly file: string;
  readonly line: number;
  readonly column: string;
}

/** Reads the cells of one row by the names of their columns, and tells what they should have been. */
export class RowCells {
  constructor(
    private readonly table: Table,
    private readonly columns: Columns,
    private readonly row: TableRow,
    private readonly issues: Issue[],
  ) {}

  complain(column: string, problem: string, remedy: string): undefined {
    const { file } = this.table;
    this.issues.push({
      ...{ code: 'table-cell', severity: 'error', file, line: this.row.line, path: column, problem, remedy },
    });
    return undefined;
  }

  origin(column: string): Origin {
    return { file: this.table.file, line: this.row.line, column };
  }

  private cell(column: string): string | number | boolean | undefined {
    const at = this.columns.get(column);
    return at === undefined ? undefined : this.row.cells[at];
  }

  isFilled(column: string): boolean {
    return this.cell(column) !== undefined;
  }

  text(column: string): string | undefined {
    const cell = this.cell(column);
    return cell === undefined ? undefined : String(cell);
  }

  /** A text that must be there. */
  neededText(column: string): string | undefined {
    return this.text(column) ?? this.complain(column, 'the cell is empty', 'fill it in');
  }

  number(column: string): number | undefined {
    const cell = this.cell(column);
    if (cell === undefined || typeof cell === 'number') return cell;
    const comma = /^[+-]?\d*,\d+$/.test(String(cell));
    const unit = /^[+-]?[\d.]+\s*[a-z"°]+$/i.test(String(cell));
    const remedy = comma
      ? 'write a point for the comma'
      : unit
        ? 'write the number alone; its unit stands below the name of the column'
        : 'write a number';
    return this.complain(column, `${showValue(cell)} is no number`, remedy);
  }

  /** Groups of `size` numbers as `0 0; 60 0; 60 20`; `what` is said where a group is none. */
  groups(column: string, size: number, what: string): readonly (readonly number[])[] | undefined {
    const cell = this.cell(column);
    if (cell === undefined) return undefined;
    const groups = String(cell)
      .split(';')
      .map((group) => group.trim())
      .filter((group) => group !== '');
    const wrong = groups.find((group) => !isGroup(group, size));
    if (groups.length > 0 && wrong === undefined)
      return groups.map((group) => group.split(/\s+/).map(Number));
    const shown = wrong === undefined ? 'the cell' : `"${printable(wrong.slice(0, 40))}"`;
    return this.complain(column, `${shown} is not ${what}`, `write ${what}, with ; between several`);
  }
}

const isGroup = (group: string, size: number): boolean => {
  const words = group.split(/\s+/);
  return words.length === size && words.every((word) => Number.isFinite(Number(word)) && /\d/.test(word));
};

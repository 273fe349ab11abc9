import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsvTable } from '../../../src/io/tables/csv-table.js';
import { issueLine } from '../../../src/model/issue.js';
import { csvTable } from '../../../src/report/csv.js';

const lines = (text: string): readonly string[] => readCsvTable(text, 't.csv').issues.map(issueLine);

describe('readCsvTable', () => {
  it('reads names, units and cells of every kind, each row with its line', () => {
    const text =
      '\ufeff# the stands of this year\n\nname,height,gusseted,note\n,mm,,\nlow,160,yes,"two\nlines"\n007,1.6e2,FALSE,\n';
    expect(readCsvTable(text, 't.csv')).toEqual({
      table: {
        file: 't.csv',
        columns: ['name', 'height', 'gusseted', 'note'],
        units: [undefined, 'mm', undefined, undefined],
        namesLine: 3,
        unitsLine: 4,
        rows: [
          { line: 6, cells: ['low', 160, true, 'two\nlines'] },
          { line: 7, cells: ['007', 160, false, undefined] },
        ],
      },
      issues: [],
    });
  });

  it('takes semicolons with decimal commas, and tabs', () => {
    const cells = (text: string) => readCsvTable(text, 't.csv').table?.rows.map((row) => row.cells);
    expect(cells('name;height\na;12,5\nb;-,5\n')).toEqual([
      ['a', 12.5],
      ['b', -0.5],
    ]);
    expect(cells('name\theight\r\na\t12.5\r\n')).toEqual([['a', 12.5]]);
    expect(cells('name,height\na,"12,5"\n')).toEqual([['a', '12,5']]);
  });

  it('tells a row of units from data', () => {
    const units = (text: string) => readCsvTable(text, 't.csv').table?.units;
    expect(units('name,height,turn\nunits,[mm],(deg)\na,1,2\n')).toEqual([undefined, 'mm', 'deg']);
    expect(units('name,height,count\n-,mm,furlongs\na,1,2\n')).toEqual([undefined, 'mm', 'furlongs']);
    expect(units('name,kind\nm,in\n')).toEqual([undefined, undefined]);
    expect(units('name,height\n,mm 5\na,1\n')).toEqual([undefined, undefined]);
  });

  it('passes over columns without a name or a cell, and rows that are short or empty', () => {
    expect(readCsvTable('name,,height,\na,,1,\n,,,\nb\n', 't.csv').table).toMatchObject({
      columns: ['name', 'height'],
      rows: [
        { line: 2, cells: ['a', 1] },
        { line: 4, cells: ['b', undefined] },
      ],
    });
  });

  it('says what is wrong, with line and column', () => {
    expect([
      ...lines(''),
      ...lines('# only a word\n'),
      ...lines('name,a,a\nx,1,2\n'),
      ...lines('name,,a\nx,1,2\n'),
      ...lines('name,a\nx,1,5\ny,2\nz,2,5\n'),
      ...lines('name,a\nx,"1\n'),
      ...lines(`name\n${'x\n'.repeat(10_001)}`),
    ]).toMatchInlineSnapshot(`
      [
        "t.csv: the table is empty; begin with a row of column names",
        "t.csv: the table is empty; begin with a row of column names",
        "t.csv:1: a: the column is given twice; keep one of them",
        "t.csv:2: column B: 1 stands in a column without a name; name the column in the first row, or empty it",
        "t.csv:2: the row has 3 cells and there are 2 columns; write a point in numbers where a comma stands between cells, and put a text with a comma in double quotes",
        "t.csv:4: the row has 3 cells and there are 2 columns; write a point in numbers where a comma stands between cells, and put a text with a comma in double quotes",
        "t.csv:2: a quotation mark is not closed or stands inside a plain field; write "..." round the whole field, and two marks for one inside it",
        "t.csv: the table has 10001 rows; at most 10000 are read",
      ]
    `);
  });

  it('reads back what `report/csv.ts` writes', () => {
    const text = fc
      .string({ unit: 'binary' })
      .map((one) => one.trim().replaceAll(/[^\p{L}\p{N}\p{P}\p{S} ]/gu, ''));
    const cell = fc.oneof(text, fc.double({ noNaN: true, noDefaultInfinity: true }));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constant('n'), text, cell), { minLength: 1, maxLength: 8 }),
        (rows) => {
          const { table } = readCsvTable(csvTable(['name', 'b', 'c'], rows), 't.csv', {
            texts: ['name', 'b'],
          });
          expect(table?.rows.map(({ cells }) => cells[1] ?? '')).toEqual(rows.map(([, b]) => b.trim()));
          rows.forEach(([, , c], i) => {
            if (typeof c === 'number') expect(table!.rows[i]!.cells[2]).toBe(c === 0 ? 0 : c);
          });
        },
      ),
      { numRuns: 40 },
    );
  });
});

import { describe, expect, it } from 'vitest';
import { readXlsxTable } from '../../../src/io/tables/xlsx-table.js';
import { issueLine } from '../../../src/model/issue.js';
import { workbook, type TestCell } from '../../support/workbook.js';

const read = async (rows: readonly (readonly TestCell[])[]) =>
  readXlsxTable(await workbook({ parts: rows, other: [['x'], [1]] }), 't.xlsx');

describe('readXlsxTable', () => {
  it('reads bytes that share their memory with others, as those of small files do', async () => {
    const bytes = await workbook({ parts: [['name'], ['low']] });
    const shared = Buffer.concat([Buffer.alloc(16), bytes, Buffer.alloc(16)]).subarray(16, 16 + bytes.length);
    expect((await readXlsxTable(shared, 't.xlsx')).table?.columns).toEqual(['name']);
  });

  it('reads the first sheet with the numbers of its rows', async () => {
    const rows: readonly (readonly TestCell[])[] = [
      ['# the stands of this year'],
      [undefined],
      ['name', 'height', 'gusseted', undefined, 'note'],
      [undefined, 'mm'],
      ['low', 160.1, true, undefined, ' two '],
      [7, '12.5', 'no', undefined, "'=1+1"],
    ];
    expect(await read(rows)).toEqual({
      table: {
        file: 't.xlsx',
        columns: ['name', 'height', 'gusseted', 'note'],
        units: [undefined, 'mm', undefined, undefined],
        namesLine: 3,
        unitsLine: 4,
        rows: [
          { line: 5, cells: ['low', 160.1, true, 'two'] },
          { line: 6, cells: ['7', 12.5, false, '=1+1'] },
        ],
      },
      issues: [],
    });
  });

  it('says what is wrong, with row and column', async () => {
    const dated = await read([
      ['name', 'a'],
      ['x', new Date(0)],
      ['y', '#REF!'],
    ]);
    const nothing = await readXlsxTable(new TextEncoder().encode('name,a\n'), 't.xlsx');
    const large = await readXlsxTable(new Uint8Array(4_000_001), 't.xlsx');
    expect([dated, nothing, large].flatMap(({ issues }) => issues.map(issueLine))).toMatchInlineSnapshot(`
      [
        "t.xlsx:2: column B: the cell holds a date; format it as a number or as text, and write it again",
        "t.xlsx:3: column B: the formula of the cell failed (#REF!); mend it, or write the value",
        "t.xlsx: this is no workbook that can be read (Doesn't look like an \`.xlsx\` file); save it as .xlsx or .csv",
        "t.xlsx: the file has 4000001 bytes; at most 4000000 are read; save the one sheet as CSV",
      ]
    `);
  });
});

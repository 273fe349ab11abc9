import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvTable } from '../../src/report/csv.js';
import { plain } from '../../src/report/plain.js';
import { plainText, readCsv } from '../../src/io/tables/csv-records.js';

describe('a table as comma-separated values', () => {
  it('quotes by RFC 4180 and ends every line with carriage return and line feed', () => {
    expect(csvTable(['a', 'b'], [['x, y', 'he said "no"']])).toBe('a,b\r\n"x, y","he said ""no"""\r\n');
  });

  it('puts an apostrophe before a text that would begin a formula, and leaves numbers alone', () => {
    const table = csvTable(['a', 'b', 'c', 'd', 'e'], [['=1+1', '+cmd', '-2', '@sum', -2.5]]);
    expect(table).toBe("a,b,c,d,e\r\n'=1+1,'+cmd,'-2,'@sum,-2.5\r\n");
  });

  it('has nothing where there is nothing, and no minus before zero', () => {
    expect(csvTable(['a', 'b', 'c'], [[undefined, -0, '']])).toBe('a,b,c\r\n,0,\r\n');
  });

  it('is read back as it was written, whatever the texts', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'binary' }), { minLength: 2, maxLength: 4 }), (row) => {
        const text = csvTable(
          row.map((_, i) => `h${i}`),
          [row],
        );
        const records = readCsv(text);
        if (!records.ok) throw new Error(records.error.problem);
        const told = row.map(plain);
        const fields = records.value[1]!.fields;
        expect(fields.map(plainText)).toEqual(told);
        for (const field of fields) expect(field).not.toMatch(/^[=+\-@\t\r]/);
      }),
    );
  });
});

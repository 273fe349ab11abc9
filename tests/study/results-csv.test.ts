import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvLine, neutralText } from '../../src/report/csv.js';
import { plainText, readCsv } from '../../src/io/tables/csv-records.js';
import { HEADER, readResults, rowLine } from '../../src/study/results-csv.js';
import { openRow, someRow } from './some-rows.js';

describe('comma-separated values', () => {
  it('come back as they were written, whatever is in them', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'grapheme' }), { minLength: 2, maxLength: 5 }), (fields) => {
        const read = readCsv(csvLine(fields));
        if (!read.ok) throw new Error(read.error.problem);
        expect(read.value.map((record) => record.fields)).toEqual([fields]);
      }),
    );
  });

  it('let no cell begin a formula, and give every text back', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('', "'", "''", '=', '+', '-', '@', '\t', 'a'),
        fc.string(),
        (head, tail) => {
          const cell = neutralText(head + tail);
          expect(cell).not.toMatch(/^[=+\-@\t\r]/);
          expect(plainText(cell)).toBe(head + tail);
        },
      ),
    );
  });

  it.each([
    ['a,b', '"a,b"\r\n'],
    ['say "x"', '"say ""x"""\r\n'],
    ['two\nlines', '"two\nlines"\r\n'],
  ])('quotes %j as RFC 4180 has it', (field, line) => {
    expect(csvLine([field])).toBe(line);
  });
});

describe('rows of results', () => {
  const rows = [
    someRow({ instance: '=HYPERLINK("x")', solver: '@sum, of', note: "-1; 'quoted'" }),
    openRow({ terms: ['regrips', 'tool-changes', 'time'], best: [0, 2, 1500.5], bound: [0, 1, 900] }),
    openRow({ outcome: 'impossible', best: undefined, bound: [Infinity], firstSeconds: undefined }),
    openRow({ limits: { seconds: 0.5, steps: undefined, megabytes: 1024 }, solverDigest: 'abc', seed: 7 }),
    openRow({ outcome: 'failed', best: undefined, bound: undefined, terms: [], totalSeconds: 0.125 }),
  ];

  it('come back as they were written', () => {
    const read = readResults(HEADER + rows.map(rowLine).join(''), 'r.csv');
    expect(read).toEqual({ rows: rows.map((row, i) => ({ row, line: i + 2 })), issues: [] });
  });

  it('take one line each, also where a name has ends of lines', () => {
    const line = rowLine(someRow({ instance: 'a\r\nb', note: 'c\nd' }));
    expect(line.indexOf('\n')).toBe(line.length - 1);
  });

  it.each([
    ['another file', 'step,part\r\n', 'r.csv', 1, '', 'column 1 is "step" instead of "instance"'],
    ['a missing column', HEADER.replace(',note', ''), 'r.csv', 1, '', 'column 29 is'],
    ['a short row', `${HEADER}a,b\r\n`, 'r.csv', 2, '', 'there are 2 fields instead of'],
    [
      'a word for a number',
      HEADER + rowLine(someRow()).replace(',9,', ',nine,'),
      'r.csv',
      2,
      'parts',
      '"nine" is not a number',
    ],
    [
      'no outcome',
      HEADER + rowLine(someRow()).replace(',optimal,', ',best,'),
      'r.csv',
      2,
      'outcome',
      '"best" is none of',
    ],
    ['an open mark', `${HEADER}"a`, 'r.csv', 2, '', 'quotation mark'],
  ])('refuses %s by its line', (_, text, file, line, path, problem) => {
    const { issues } = readResults(text, file);
    expect(issues).toHaveLength(1);
    expect(issues[0]).toMatchObject({ file, line, path, problem: expect.stringContaining(problem) });
  });
});

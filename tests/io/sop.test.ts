import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseSop } from '../../src/io/sop.js';

const DATA = new URL('../../../shared/data/', import.meta.url);
const present = existsSync(DATA);

const GOOD = `NAME: tiny
TYPE: SOP
DIMENSION: 3
EDGE_WEIGHT_TYPE: EXPLICIT
EDGE_WEIGHT_FORMAT: FULL_MATRIX
EDGE_WEIGHT_SECTION
3
 0  5 1000000
-1  0 7
-1 -1 0
EOF
`;

describe('parseSop', () => {
  it('reads the form with headers', () => {
    expect(parseSop(GOOD)).toEqual({
      ok: true,
      value: {
        name: 'tiny',
        cost: [
          [0, 5, 1000000],
          [-1, 0, 7],
          [-1, -1, 0],
        ],
      },
    });
  });

  it('reads the bare form, with carriage returns, under the name given', () => {
    const read = parseSop('2\r\n0\t4\r\n-1\t0\r\n', 'bare');
    expect(read).toEqual({
      ok: true,
      value: {
        name: 'bare',
        cost: [
          [0, 4],
          [-1, 0],
        ],
      },
    });
  });

  it.each([
    ['an entry that is no number', GOOD.replace('5', 'five'), 8, '"five" is not a cost'],
    ['a negative cost', GOOD.replace(' 7', ' -7'), 9, '"-7" is not a cost'],
    ['a fraction', GOOD.replace(' 7', ' 7.5'), 9, '"7.5" is not a cost'],
    [
      'a cost that sums would round',
      GOOD.replace(' 7', ' 1125899906842625'),
      9,
      '"1125899906842625" is too large to be added up without rounding',
    ],
    ['too few entries', GOOD.replace('-1 -1 0\n', '-1 -1\n'), 10, '8 entries instead of 3 x 3 = 9'],
    ['too many entries', GOOD.replace('-1 -1 0\n', '-1 -1 0\n4\n'), 11, '10 entries instead of 3 x 3 = 9'],
    ['a size against its header', GOOD.replace('DIMENSION: 3', 'DIMENSION: 4'), 3, 'DIMENSION is 4'],
    ['another type', GOOD.replace('TYPE: SOP', 'TYPE: TSP'), 2, 'TYPE is TSP; only SOP can be read'],
    ['a half matrix', GOOD.replace('FULL_MATRIX', 'UPPER_ROW'), 5, 'EDGE_WEIGHT_FORMAT is UPPER_ROW'],
    [
      'a line that is no header',
      GOOD.replace('DIMENSION: 3', 'three nodes'),
      3,
      '"three nodes" is not a header',
    ],
    ['no section', GOOD.replace('EDGE_WEIGHT_SECTION\n', ''), 11, 'no line EDGE_WEIGHT_SECTION'],
    ['an empty file', '', 1, 'the number of nodes should stand here, found nothing'],
    ['no size', 'x\n', 1, 'the number of nodes should stand here, found "x"'],
    ['a node before itself', GOOD.replace(' 0 7', ' -1 7'), 9, 'node 1 is to come before itself'],
    [
      'a cycle of three nodes',
      '5\n0 1 1 1 1\n-1 0 1 -1 1\n-1 -1 0 1 1\n-1 1 -1 0 1\n-1 -1 -1 -1 0\n',
      5,
      'nodes wait for each other: 1 before 2 before 3 before 1',
    ],
    [
      'a node before the first one',
      '3\n0 -1 1\n1 0 1\n-1 -1 0\n',
      2,
      'nodes wait for each other: 0 before 1 before 0',
    ],
    ['a node after the last', '3\n0 1 1\n-1 0 -1\n-1 1 0\n', 3, 'nodes wait for each other: '],
    ['two nodes before each other', GOOD.replace('0 7', '0 -1'), 10, 'nodes 1 and 2 are each to come before'],
  ])('names the line of %s', (_, text, line, problem) => {
    const read = parseSop(text);
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.error).toContainEqual({
      line,
      problem: expect.stringContaining(problem),
      remedy: expect.any(String),
    });
  });

  it('gives every bad entry in one run', () => {
    const read = parseSop(GOOD.replace('5', 'five').replace(' 7', ' seven'));
    expect(read.ok ? [] : read.error.map(({ line }) => line)).toEqual([8, 9]);
  });

  it.skipIf(!present)('reads every published instance that is here', () => {
    let count = 0;
    for (const folder of ['sop-tsplib/', 'sop-soplib/']) {
      const files = readdirSync(new URL(folder, DATA)).filter((file) => file.endsWith('.sop'));
      for (const file of files) {
        const read = parseSop(readFileSync(new URL(folder + file, DATA), 'utf8'), file);
        expect(read.ok, file).toBe(true);
        if (read.ok) expect(read.value.cost.every((row) => row.length === read.value.cost.length)).toBe(true);
        count += 1;
      }
    }
    expect(count).toBeGreaterThan(20);
  });
});

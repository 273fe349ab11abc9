import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readCell } from '../../../src/io/read-cell.js';
import type { Cell } from '../../../src/model/cell.js';
import { cellFileSchema } from '../../../src/model/cell-file.js';
import { movables, movedCell, type CellMove } from '../../../src/model/cell-move.js';
import { withValueAt } from '../../../src/session/remedies/edited.js';
import { editsOfMove } from '../../../src/session/remedies/position/cell-edits.js';
import { moveWords } from '../../../src/session/remedies/position/move-words.js';

const bench = parse(
  readFileSync(new URL('../../stories/bench.cell.yaml', import.meta.url), 'utf8'),
) as Record<string, unknown>;
const table = ['stations', 'table'];
const turning = { angles: [0, 90], at: [40, -30], speed: 45, acceleration: 30 };

/** The bench as it is, and with everything that goes along with its table. */
const CELLS: Readonly<Record<string, unknown>> = {
  bench,
  'with an offset weldment on a turning table': withValueAt(
    withValueAt(withValueAt(bench, [...table, 'weldment-at'], [120, 60, 505]), [...table, 'turn'], 30),
    [...table, 'turntable'],
    turning,
  ),
};

const cellOf = (value: unknown): Cell => readCell(JSON.stringify(value), 'cell.yaml').value!;

const MOVES: readonly Omit<CellMove, 'moved'>[] = [
  { shift: [80, 0, 0], degrees: 0 },
  { shift: [0, -50, 100], degrees: 0 },
  { shift: [0, 0, 0], degrees: 75 },
  { shift: [100, 0, 0], degrees: -30 },
];

/** All numbers of a cell in a fixed order. */
const numbers = (value: unknown): number[] =>
  typeof value === 'number'
    ? [value]
    : typeof value === 'object' && value !== null
      ? Object.entries(value)
          .sort(([a], [b]) => (a < b ? -1 : 1))
          .flatMap(([, inner]) => numbers(inner))
      : [];

describe.each(Object.entries(CELLS))('%s', (_, file) => {
  it('says after the edits of a move what the moved cell is', () => {
    const cell = cellOf(file);
    for (const moved of movables(cell))
      for (const one of MOVES) {
        const move: CellMove = { moved, ...one };
        const edits = editsOfMove(cellFileSchema.parse(file), move);
        const after = cellOf(edits.reduce((value, { path, to }) => withValueAt(value, path, to), file));
        const want = movedCell(cell, move);
        for (const key of ['handlers', 'welders', 'infeed', 'regrip', 'weldmentPose'] as const)
          numbers(after[key]).forEach((x, i) => expect(x).toBeCloseTo(numbers(want[key])[i]!, 3));
        numbers(after.table.pose).forEach((x, i) => expect(x).toBeCloseTo(numbers(want.table.pose)[i]!, 3));
      }
  });
});

describe('the words of a move', () => {
  const file = cellFileSchema.parse(bench);
  const words = (moved: CellMove['moved'], shift: CellMove['shift'], degrees = 0): string =>
    moveWords(file, { moved, shift, degrees });

  it('say toward what, where something stands there', () => {
    expect(words({ what: 'table' }, [80, 0, 0])).toBe('move the work table 80 mm toward welder (x +80)');
    expect(words({ what: 'robot', id: 'handler' }, [-50, 0, 0])).toBe(
      'move handler 50 mm away from welder (x -50)',
    );
    expect(words({ what: 'infeed' }, [0, 100, 0])).toBe('move the infeed 100 mm toward handler (y +100)');
  });

  it('say by how much along the axes where nothing stands there', () => {
    expect(words({ what: 'table' }, [0, 50, 0])).toBe('move the work table by y +50 mm');
    expect(words({ what: 'table' }, [0, 0, 100])).toBe('move the work table 100 mm up (z +100)');
    expect(words({ what: 'table' }, [50, 0, -100])).toBe('move the work table by x +50, z -100 mm');
  });

  it('say how far to turn', () => {
    expect(words({ what: 'table' }, [0, 0, 0], 30)).toBe('turn the work table by 30 deg about its vertical');
    expect(words({ what: 'table' }, [50, 0, 0], -15)).toBe(
      'turn the work table by -15 deg about its vertical and move it 50 mm toward welder (x +50)',
    );
  });
});

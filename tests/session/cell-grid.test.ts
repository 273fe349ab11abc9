import { describe, expect, it } from 'vitest';
import { movables, moveSize } from '../../src/model/cell-move.js';
import { cellGrid } from '../../src/session/cell-grid.js';
import { testCell } from '../support/cell.js';

const grid = cellGrid(testCell());

describe('cellGrid', () => {
  it('has every change of one or two coordinates of each thing once', () => {
    // 12 shifts along each of three axes and 23 turns: 36 + 23 alone, 3 * 12 * 12 + 36 * 23 in twos.
    expect(movables(testCell())).toHaveLength(4);
    expect(grid).toHaveLength(4 * (36 + 23 + 3 * 144 + 36 * 23));
    expect(new Set(grid.map((move) => JSON.stringify(move))).size).toBe(grid.length);
  });

  it('begins with the smallest change', () => {
    const sizes = grid.map(moveSize);
    expect(sizes[0]).toBe(50);
    for (let i = 1; i < sizes.length; i += 1) expect(sizes[i]! - sizes[i - 1]!).toBeGreaterThan(-1e-6);
    expect(grid[0]).toEqual({ moved: { what: 'table' }, shift: [50, 0, 0], degrees: 0 });
  });

  it('is the same every time', () => {
    expect(cellGrid(testCell())).toEqual(grid);
  });
});

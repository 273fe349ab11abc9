import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse, stringify } from 'yaml';
import type { Sources } from '../src/session/inputs.js';

const LONG_BENCH = join(import.meta.dirname, '..', 'examples', 'cells', 'long-bench.cell.yaml');
/** Distance of the columns and of the rows of blocks, mm. */
const COLUMN = 118;
const ROW = 135;

/**
 * Our own invention, so that there surely is a plan: a base plate with `count` - 1 solid blocks in three rows, each gripped
 * from above, held, and tacked to the base on two sides; a row is in the way of a torch or of the arm once others stand, so that not every order
 * is legal. The cell is long-bench with a table as long as the base. Not fitted to any person's product.
 */
export function blocksOnABase(count: number): Sources {
  const places = Array.from({ length: count - 1 }, (_, i) => [Math.floor(i / 3), i % 3] as const);
  const columns = Math.ceil((count - 1) / 3);
  const length = columns * COLUMN + 20;
  const blocks = places.map(([column, line], i) => {
    const [width, height] = i % 2 === 0 ? [56, 60] : [64, 40];
    const at = [(column - (columns - 1) / 2) * COLUMN, (line - 1) * ROW, 6 + height / 2];
    return [
      `block-${String(i + 1).padStart(2, '0')}`,
      { block: { length: 76, width, height }, at, turn: [0, 0, 90], rest: '-z' },
    ] as const;
  });
  const weldment = {
    weldment: `blocks-on-a-base-${count}`,
    units: 'mm kg N s deg',
    material: 'S235',
    parts: {
      base: { plate: { length, width: 420, thickness: 6 }, at: [0, 0, 3] },
      ...Object.fromEntries(blocks),
    },
    joints: blocks.map(([id]) => ({ between: ['base', id], type: 'fillet', leg: 4, sides: 'both' })),
    'fit-up': { gap: 2, insertion: 0.5 },
    first: 'base',
  };
  const cell = parse(readFileSync(LONG_BENCH, 'utf8')) as { stations: { table: { size: number[] } } };
  cell.stations.table.size = [480, Math.max(780, length + 60)];
  return {
    weldment: { name: `blocks-on-a-base-${count}.weldment.yaml`, text: stringify(weldment) },
    cell: { name: 'long-table.cell.yaml', text: stringify(cell) },
  };
}

import type { Cell } from '../model/cell.js';
import { cellFileSchema } from '../model/cell.js';
import { cellIssues } from './cell-checks.js';
import type { Reading } from './reading.js';
import { judgeBy, readBy } from './reading.js';
import { resolveCell } from './resolve-cell.js';

const judgeCell = judgeBy(cellFileSchema, cellIssues, resolveCell);

/** Reads a cell file (YAML or JSON). All issues are told in one run; a value comes only without errors. */
export const readCell = (text: string, file: string): Reading<Cell> => readBy(text, file, judgeCell, 'cell');

import type { Issue } from '../model/issue.js';
import { clipped, plain } from '../report/plain.js';
import type { Row, RunResult } from '../study/row.js';
import { EXIT } from './exit-codes.js';
import type { ResultsFile } from './results-file.js';
import type { StudyCell } from './study-cell.js';
import type { StudyPool } from './study-pool.js';

export interface GridRun {
  readonly pool: StudyPool;
  readonly results: ResultsFile;
  readonly threads: number;
}

/** How a grid was run: rows that were made, fewer than asked for after an interrupt, and what stopped it otherwise. */
export interface GridOutcome {
  readonly rows: number;
  readonly failed: Issue | undefined;
}

/**
 * Makes the rows, `threads` at a time, each written as soon as it is there. The first interrupt lets the running rows end
 * and begins no more; the second leaves at once, and the running rows are made again the next time.
 */
export async function runGrid(
  cells: readonly StudyCell[],
  { pool, results, threads }: GridRun,
): Promise<GridOutcome> {
  let [next, rows] = [0, 0];
  let stopping = false;
  let failed: Issue | undefined;
  const interrupt = (): void => {
    if (stopping) process.exit(EXIT.interrupted);
    stopping = true;
    process.stderr.write('\nstopping after the running rows (interrupt again to leave at once)\n');
  };
  const lane = async (): Promise<void> => {
    while (!stopping && failed === undefined && next < cells.length) {
      const cell = cells[next]!;
      next += 1;
      showProgress(rows, cells.length, cell);
      const row = rowOf(cell, await pool.run(taskOf(cell), cell.instance.instance));
      failed ??= results.add(row);
      if (failed === undefined) rows += 1;
    }
  };
  process.on('SIGINT', interrupt);
  process.on('SIGTERM', interrupt);
  try {
    await Promise.all(Array.from({ length: threads }, lane));
  } finally {
    process.off('SIGINT', interrupt);
    process.off('SIGTERM', interrupt);
    if (process.stderr.isTTY) process.stderr.write('\r\u001b[K');
  }
  return { rows, failed };
}

const taskOf = ({ instance, solver, key }: StudyCell): Parameters<StudyPool['run']>[0] => ({
  ...{ sources: instance.sources, solver: solver.task, seed: key.seed, limits: key.limits },
});

function rowOf({ instance: { instance }, solver, key }: StudyCell, result: RunResult): Row {
  const once = solver.random ? '' : 'no random choices, one run';
  const note = [result.note, once].filter((text) => text !== '').join('; ');
  return { ...key, instance: instance.name, kind: instance.kind, parts: instance.parts, ...result, note };
}

/** One line, rewritten in place, on a terminal only. */
function showProgress(done: number, all: number, { instance, solver, key }: StudyCell): void {
  if (!process.stderr.isTTY) return;
  const text = `${done} of ${all} rows; ${solver.name} on ${instance.instance.name}, seed ${key.seed}`;
  process.stderr.write(`\r\u001b[K${clipped(plain(text), 100)}`);
}

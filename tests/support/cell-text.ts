import { readFileSync } from 'node:fs';

/** The bench of the examples, as its file. */
export const benchText = (): string =>
  readFileSync(new URL('../../examples/cells/twin-bench.cell.yaml', import.meta.url), 'utf8');

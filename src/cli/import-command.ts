import type { ExitCode } from './exit-codes.js';
import type { ImportFlags } from './import-flags.js';

/** `tackwright import`: STEP files by their ending, everything else as tables. */
export async function importCommand(file: string, flags: ImportFlags): Promise<ExitCode> {
  if (/\.(?:step|stp)$/i.test(file)) return (await import('./import-step.js')).importStep(file, flags);
  return (await import('./import-tables.js')).importTables(file, flags);
}

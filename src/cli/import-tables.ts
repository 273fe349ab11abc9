import { EXIT, type ExitCode } from './exit-codes.js';
import type { ImportFlags } from './import-flags.js';

export function importTables(file: string, flags: ImportFlags): Promise<ExitCode> {
  process.stderr.write(`${file}: not read yet${flags.out === undefined ? '' : ', nothing written'}\n`);
  return Promise.resolve(EXIT.usage);
}

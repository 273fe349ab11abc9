import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { referenceTables } from '../io/reference-tables.js';
import { jsonSchemas } from '../io/schemas.js';
import { issueLine } from '../model/issue.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { writeWhole } from './files.js';

/** `tackwright schemas`: writes the JSON Schemas of every file that Tackwright reads or writes, and the reference tables. */
export function schemasCommand(folder: string): ExitCode {
  mkdirSync(folder, { recursive: true });
  for (const { fileName, text } of [...jsonSchemas(), referenceTables()]) {
    const written = writeWhole(join(folder, fileName), text);
    if (!written.ok) {
      process.stderr.write(`${issueLine(written.error)}\n`);
      return EXIT.badInput;
    }
    process.stdout.write(`${fileName}\n`);
  }
  return EXIT.done;
}

import { issuesText } from '../report/findings-text.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { writeWhole } from './files.js';

/** Prints a text, or writes it to a file and says so. */
export function putOut(text: string, out: string | undefined): ExitCode {
  if (out === undefined) {
    process.stdout.write(text);
    return EXIT.done;
  }
  const written = writeWhole(out, text);
  if (!written.ok) {
    process.stderr.write(issuesText([written.error]));
    return EXIT.badInput;
  }
  process.stdout.write(`Written: ${out}\n`);
  return EXIT.done;
}

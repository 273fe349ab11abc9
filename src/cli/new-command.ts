import { join } from 'node:path';
import { nameSchema } from '../model/scalars.js';
import { issuesText } from '../report/findings-text.js';
import { plain } from '../report/plain.js';
import { starterFiles } from '../report/starter/starter.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { writeAllNew } from './new-files.js';

export interface NewFlags {
  readonly out: string;
  readonly abstract?: boolean;
}

/** `tackwright new`: writes commented files to begin from, all of them or none, and never over one that is there. */
export function newCommand(name: string, { out, abstract = false }: NewFlags): ExitCode {
  const named = nameSchema.safeParse(name);
  if (!named.success) {
    process.stderr.write(
      `"${plain(name)}" cannot be the name of a weldment: give 1 to 80 printable characters\n`,
    );
    return EXIT.usage;
  }
  const files = starterFiles(name, abstract).map(({ file, text }) => ({ file: join(out, file), text }));
  const issues = writeAllNew(out, files);
  if (issues.length > 0) {
    process.stderr.write(issuesText(issues));
    return EXIT.badInput;
  }
  const [weldment, cell] = files.map(({ file }) => asArgument(file));
  const within = cell === undefined ? '' : ` --cell ${cell}`;
  const written = files.map(({ file }) => `Written: ${file}\n`).join('');
  process.stdout.write(`${written}Next: tackwright inspect ${weldment}${within}\n`);
  return EXIT.done;
}

/** A path as it can be typed again. */
const asArgument = (path: string): string => (/^[\w./\\:-]+$/.test(path) ? path : `"${path}"`);

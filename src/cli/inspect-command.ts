import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { loadLinearPrograms } from '../algorithms/linear-program.js';
import type { Facts } from '../facts/facts.js';
import { canonicalText } from '../io/canonical.js';
import { abstractText } from '../report/abstract-text.js';
import { issuesText } from '../report/findings-text.js';
import { inspectText } from '../report/inspect-text.js';
import { inspectPictures } from '../report/pictures.js';
import { inspectSession, type InspectOutcome } from '../session/inspect-session.js';
import type { AdviceProgress } from '../session/cell-advice.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readCellSource } from './cell-source.js';
import { readSource, writeWhole } from './files.js';

export interface InspectFlags {
  readonly cell?: string;
  readonly svg?: string;
  readonly json?: boolean;
  readonly reach?: boolean;
}

/** `tackwright inspect`: what the files imply, as text, JSON or pictures. */
export async function inspectCommand(weldment: string, flags: InspectFlags): Promise<ExitCode> {
  if (flags.reach === true && flags.cell === undefined) {
    process.stderr.write('--reach needs the cell: give one with --cell FILE\n');
    return EXIT.usage;
  }
  const outcome = await inspected(weldment, flags);
  process.stderr.write(issuesText(outcome.issues));
  const { kind, issues } = outcome;
  if (outcome.kind === 'bad-input') {
    if (flags.json === true) process.stdout.write(canonicalText({ kind, issues }));
    return EXIT.badInput;
  }
  const abstract = outcome.kind === 'abstract';
  if (flags.json === true)
    process.stdout.write(canonicalText({ ...(abstract ? outcome.weldment : outcome.inspection), issues }));
  else process.stdout.write(abstract ? abstractText(outcome.weldment) : inspectText(outcome.inspection));
  if (flags.svg !== undefined && abstract)
    process.stderr.write('No picture drawn: a weldment without shapes has none.\n');
  if (flags.reach === true && abstract)
    process.stderr.write('No reach told: a weldment without shapes has none.\n');
  const drawn = flags.svg !== undefined && !abstract ? draw(outcome.facts, flags.svg) : true;
  return drawn && outcome.issues.every(({ severity }) => severity !== 'error') ? EXIT.done : EXIT.badInput;
}

async function inspected(weldment: string, flags: InspectFlags): Promise<InspectOutcome> {
  const file = readSource(weldment);
  const cell = flags.cell === undefined ? undefined : readCellSource(flags.cell).source;
  if (!file.ok || (cell && !cell.ok)) {
    const issues = [file, cell].flatMap((source) =>
      source === undefined || source.ok ? [] : [source.error],
    );
    return { kind: 'bad-input', issues };
  }
  const outcome = inspectSession(
    { weldment: file.value, cell: cell?.value },
    await loadLinearPrograms(),
    flags.reach === true ? { reach: { onProgress: showProgress } } : {},
  );
  if (flags.reach === true && process.stderr.isTTY) process.stderr.write('\r\u001b[K');
  return outcome;
}

/** Every so many places of the grid are told. */
const TOLD = 50;

/** One line, rewritten in place, on a terminal only. */
function showProgress({ tried, of }: AdviceProgress): void {
  if (!process.stderr.isTTY || tried % TOLD !== 0) return;
  process.stderr.write(`\r\u001b[Kadvice on the cell: ${tried} of ${of} places of the grid`);
}

/** Writes the pictures into a folder, which is made when it is not there; false when one cannot be written. */
function draw(facts: Facts, folder: string): boolean {
  mkdirSync(folder, { recursive: true });
  return inspectPictures(facts).every(({ file, svg }) => {
    const written = writeWhole(join(folder, file), svg);
    if (written.ok) process.stderr.write(`Drawn: ${join(folder, file)}\n`);
    else process.stderr.write(issuesText([written.error]));
    return written.ok;
  });
}

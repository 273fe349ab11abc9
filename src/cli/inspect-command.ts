import { loadLinearPrograms } from '../algorithms/linear-program.js';
import { canonicalText } from '../io/canonical.js';
import { issuesText } from '../report/findings-text.js';
import { inspectText } from '../report/inspect-text.js';
import { abstractText } from '../report/abstract-text.js';
import { inspectSession, type InspectOutcome } from '../session/inspect-session.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readSource } from './files.js';

export interface InspectFlags {
  readonly cell?: string;
  readonly json?: boolean;
}

/** `tackwright inspect`: what the files imply, as text, JSON or pictures. */
export async function inspectCommand(weldment: string, flags: InspectFlags): Promise<ExitCode> {
  const outcome = await inspected(weldment, flags);
  process.stderr.write(issuesText(outcome.issues));
  if (outcome.kind === 'bad-input') return EXIT.badInput;
  const data = outcome.kind === 'abstract' ? outcome.weldment : outcome.inspection;
  if (flags.json === true) process.stdout.write(canonicalText(data));
  else
    process.stdout.write(
      outcome.kind === 'abstract' ? abstractText(outcome.weldment) : inspectText(outcome.inspection),
    );
  return outcome.issues.some(({ severity }) => severity === 'error') ? EXIT.badInput : EXIT.done;
}

async function inspected(weldment: string, flags: InspectFlags): Promise<InspectOutcome> {
  const file = readSource(weldment);
  const cell = flags.cell === undefined ? undefined : readSource(flags.cell);
  if (!file.ok || (cell && !cell.ok)) {
    const issues = [file, cell].flatMap((source) =>
      source === undefined || source.ok ? [] : [source.error],
    );
    return { kind: 'bad-input', issues };
  }
  return inspectSession({ weldment: file.value, cell: cell?.value }, await loadLinearPrograms());
}

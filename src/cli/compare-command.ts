import { canonicalText } from '../io/canonical.js';
import { compareText } from '../report/compare-text.js';
import { issuesText } from '../report/findings-text.js';
import { comparePlans, type CompareOutcome } from '../session/compare.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readSource } from './files.js';

export interface CompareFlags {
  readonly json?: boolean;
}

/** `tackwright compare`: tells how plan B differs from plan A. Ends with 0 whether they differ or not. */
export function compareCommand(a: string, b: string, flags: CompareFlags): ExitCode {
  const outcome = compared(a, b);
  if (flags.json === true) process.stdout.write(canonicalText(outcome));
  else if (outcome.kind === 'bad-input') process.stderr.write(issuesText(outcome.issues));
  else process.stdout.write(compareText(outcome.difference, { a, b }));
  return outcome.kind === 'bad-input' ? EXIT.badInput : EXIT.done;
}

function compared(a: string, b: string): CompareOutcome {
  const [one, other] = [readSource(a), readSource(b)];
  if (one.ok && other.ok) return comparePlans(one.value, other.value);
  return { kind: 'bad-input', issues: [one, other].flatMap((read) => (read.ok ? [] : [read.error])) };
}

import { loadLinearPrograms } from '../algorithms/linear-program.js';
import { canonicalText } from '../io/canonical.js';
import { findingsText, issuesText } from '../report/findings-text.js';
import { checkPlan, type CheckOutcome } from '../session/check.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readCellSource } from './cell-source.js';
import { readSource } from './files.js';

export interface CheckFlags {
  readonly weldment: string;
  readonly cell?: string;
  readonly json?: boolean;
}

/** `tackwright check`: judges a plan from scratch and prints one line a finding. */
export async function checkCommand(plan: string, flags: CheckFlags): Promise<ExitCode> {
  const outcome = await judged(plan, flags);
  if (flags.json === true) {
    const { kind } = outcome;
    process.stdout.write(
      canonicalText(
        kind === 'judged'
          ? { kind, findings: outcome.findings, warnings: outcome.warnings }
          : { kind, issues: outcome.issues },
      ),
    );
  } else if (outcome.kind === 'bad-input') process.stderr.write(issuesText(outcome.issues));
  else {
    process.stderr.write(issuesText(outcome.warnings));
    process.stdout.write(
      outcome.findings.length === 0
        ? `${plan}: no rule is broken.\n`
        : `${plan}: ${outcome.findings.length} finding${outcome.findings.length === 1 ? '' : 's'}\n${findingsText(outcome.findings)}`,
    );
  }
  if (outcome.kind === 'bad-input') return EXIT.badInput;
  return outcome.findings.length === 0 ? EXIT.done : EXIT.ruleBroken;
}

async function judged(plan: string, flags: CheckFlags): Promise<CheckOutcome> {
  const planText = readSource(plan);
  const weldment = readSource(flags.weldment);
  const cell = flags.cell === undefined ? undefined : readCellSource(flags.cell).source;
  const issues = [planText, weldment, cell].flatMap((source) =>
    source === undefined || source.ok ? [] : [source.error],
  );
  if (!planText.ok || !weldment.ok || (cell && !cell.ok)) return { kind: 'bad-input', issues };
  const sources = { weldment: weldment.value, cell: cell?.value };
  return checkPlan(planText.value, sources, await loadLinearPrograms());
}

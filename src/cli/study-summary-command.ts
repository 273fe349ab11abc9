import { issuesText } from '../report/findings-text.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { sameFile } from './files.js';
import { readReportInputs, readRows, reportResults, type ReportFlags } from './results-report.js';

/** `tackwright study summary`: what a file of results comes to. */
export function studySummaryCommand(file: string, flags: ReportFlags): ExitCode {
  const { profile } = flags;
  const clash = [file, flags.bestKnown].find((one) => one && profile !== undefined && sameFile(one, profile));
  if (clash !== undefined) {
    process.stderr.write(`--profile ${profile} would overwrite the input ${clash}\n`);
    return EXIT.usage;
  }
  const inputs = readReportInputs(flags);
  const { rows, issues } = readRows([file]);
  const all = [...issues, ...inputs.issues];
  if (all.length === 0) return reportResults(rows, inputs, flags);
  process.stderr.write(issuesText(all));
  return EXIT.badInput;
}

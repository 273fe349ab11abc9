import { canonicalText } from '../io/canonical.js';
import type { Issue } from '../model/issue.js';
import { calibratedSettings, calibrationText } from '../report/calibration-text.js';
import { issuesText } from '../report/findings-text.js';
import { calibrate, type CalibrationOutcome } from '../session/calibrate.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readCellSource } from './cell-source.js';
import { readSource, sameFile, unwritable, writeWhole } from './files.js';

export interface CalibrateFlags {
  readonly plan: string;
  readonly weldment: string;
  readonly cell: string;
  readonly out?: string;
  readonly json?: boolean;
}

/** `tackwright calibrate`: fits the shrinkage factors to measured deviations; prints the fit and writes a settings file. */
export function calibrateCommand(measurements: string, flags: CalibrateFlags): ExitCode {
  const { plan, weldment, cell, out } = flags;
  const read = readCellSource(cell);
  const clash = [measurements, plan, weldment, cell, ...read.files].find(
    (file) => out !== undefined && sameFile(file, out),
  );
  if (clash !== undefined) {
    process.stderr.write(`--out ${out} would overwrite the input ${clash}\n`);
    return EXIT.usage;
  }
  const outcome = fitted(measurements, flags, read.source);
  if (outcome.kind !== 'calibrated') return refused(outcome.issues, flags);
  const written = out === undefined ? undefined : writeWhole(out, calibratedSettings(outcome.calibration));
  if (written?.ok === false) return refused([written.error], flags);
  if (flags.json === true) process.stdout.write(canonicalText(outcome));
  else {
    process.stderr.write(issuesText(outcome.warnings));
    process.stdout.write(calibrationText(outcome.calibration));
    if (out !== undefined) process.stdout.write(`Written: ${out}\n`);
  }
  return EXIT.done;
}

function refused(issues: readonly Issue[], { json }: CalibrateFlags): ExitCode {
  if (json === true) process.stdout.write(canonicalText({ kind: 'bad-input', issues }));
  else process.stderr.write(issuesText(issues));
  return EXIT.badInput;
}

function fitted(
  measurements: string,
  { plan, weldment, out }: CalibrateFlags,
  cell: ReturnType<typeof readCellSource>['source'],
): CalibrationOutcome {
  const sources = [readSource(measurements), readSource(plan), readSource(weldment), cell] as const;
  const [measured, planned, parts] = sources;
  const closed = out === undefined ? undefined : unwritable(out);
  const issues = [...sources.flatMap((one) => (one.ok ? [] : [one.error])), ...(closed ? [closed] : [])];
  if (!measured.ok || !planned.ok || !parts.ok || !cell.ok || closed) return { kind: 'bad-input', issues };
  const files = { weldment: parts.value, cell: cell.value };
  return calibrate({ measurements: measured.value, plan: planned.value, ...files });
}

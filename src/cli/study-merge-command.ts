import { issuesText } from '../report/findings-text.js';
import { counted } from '../report/numbers.js';
import { merge } from '../study/merge.js';
import { HEADER, rowLine } from '../study/results-csv.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { sameFile, unwritable, writeWhole } from './files.js';
import { contradictionsText, readRows } from './results-report.js';

/** `tackwright study merge`: results of several runs or shards as one file; nothing is written where rows contradict. */
export function studyMergeCommand(files: readonly string[], { out }: { readonly out: string }): ExitCode {
  const clash = files.find((file) => sameFile(file, out));
  if (clash !== undefined) {
    process.stderr.write(`--out ${out} would overwrite the input ${clash}\n`);
    return EXIT.usage;
  }
  const { rows: placed, issues: found } = readRows(files);
  const issues = [...found, ...[unwritable(out)].filter((one) => one !== undefined)];
  if (issues.length > 0) {
    process.stderr.write(issuesText(issues));
    return EXIT.badInput;
  }
  const { rows, duplicates, contradictions } = merge(placed);
  if (contradictions.length > 0) {
    process.stderr.write(`${contradictionsText(contradictions)}Nothing written.\n`);
    return EXIT.badInput;
  }
  const written = writeWhole(out, HEADER + rows.map(rowLine).join(''));
  if (!written.ok) {
    process.stderr.write(issuesText([written.error]));
    return EXIT.badInput;
  }
  const dropped = duplicates === 0 ? '' : `, ${counted(duplicates, 'duplicate')} dropped`;
  process.stdout.write(`Written: ${out} (${counted(rows.length, 'row')}${dropped})\n`);
  return EXIT.done;
}

import { issuesText } from '../report/findings-text.js';
import { EXPORT_FORMS, exportPlan, type ExportForm } from '../session/export.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readSource, sameFile, unwritable } from './files.js';
import { putOut } from './put-out.js';

export type ExportFlags = Readonly<Partial<Record<ExportForm, boolean>>> & { readonly out?: string };

/** `tackwright export`: the robot programs of a plan in another form, printed or written to a file. */
export function exportCommand(plan: string, flags: ExportFlags): ExitCode {
  const asked = EXPORT_FORMS.filter((form) => flags[form] === true);
  const [form] = asked;
  if (form === undefined || asked.length > 1) {
    process.stderr.write('name the one form to export (tackwright export --help lists them)\n');
    return EXIT.usage;
  }
  const { out } = flags;
  if (out !== undefined && sameFile(plan, out)) {
    process.stderr.write(`--out ${out} would overwrite the input ${plan}\n`);
    return EXIT.usage;
  }
  const read = readSource(plan);
  const closed = out === undefined ? undefined : unwritable(out);
  const missing = [...(read.ok ? [] : [read.error]), ...(closed ? [closed] : [])];
  if (!read.ok || missing.length > 0) {
    process.stderr.write(issuesText(missing));
    return EXIT.badInput;
  }
  const outcome = exportPlan(read.value, form);
  process.stderr.write(issuesText(outcome.kind === 'exported' ? outcome.warnings : outcome.issues));
  if (outcome.kind !== 'exported') return EXIT.badInput;
  return putOut(outcome.text, out);
}

import { readFileSync } from 'node:fs';
import { basename, extname } from 'node:path';
import { loadLinearPrograms } from '../algorithms/linear-program.js';
import { fail, ok, type Result } from '../base/result.js';
import { cleanName } from '../io/step/part-names.js';
import { looksLikeStep } from '../io/step/step-parts.js';
import { nameSchema } from '../model/scalars.js';
import type { Issue } from '../model/issue.js';
import { plain } from '../report/plain.js';
import { importedStep, type StepSource } from '../session/imported-step.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { unreadableFile } from './files.js';
import type { ImportFlags } from './import-flags.js';
import { putDraft, refuseImport, unwritableDraft } from './put-draft.js';
import { readStepSolids, STEP_LIBRARY, type StepFailure } from './step-library.js';

/** `tackwright import` of a STEP file: a weldment file to be looked through, and on stderr what to look at. */
export async function importStep(file: string, flags: ImportFlags): Promise<ExitCode> {
  const name = flags.name ?? (cleanName(basename(file, extname(file))) || 'weldment');
  const wrong = fault(name, flags);
  if (wrong !== undefined) {
    process.stderr.write(`${wrong}\n`);
    return EXIT.usage;
  }
  const closed = unwritableDraft([file], flags);
  if (closed.length > 0) return refuseImport(closed);
  const source = await readStep(file);
  if (!source.ok) return refuseImport([source.error]);
  const target = { name, file: flags.out ?? `${name}.weldment.yaml` };
  const outcome = importedStep(source.value, target, await loadLinearPrograms());
  return outcome.kind === 'drafted' ? putDraft(outcome, flags) : refuseImport(outcome.issues);
}

/** What stands against a request, as one line. */
function fault(name: string, { joints }: ImportFlags): string | undefined {
  if (joints !== undefined)
    return '--joints goes with a table of parts: joints of a STEP file are proposed from its contacts';
  return nameSchema.safeParse(name).success
    ? undefined
    : `"${plain(name)}" cannot be the name of a weldment: give 1 to 80 printable characters`;
}

async function readStep(file: string): Promise<Result<StepSource, Issue>> {
  const content = bytesOf(file);
  if (!content.ok) return content;
  const text = textOf(content.value);
  if (!looksLikeStep(text)) return fail(notStep(file));
  const raw = await readStepSolids(content.value);
  if (!raw.ok) return fail(failureIssue(file, raw.error));
  return raw.value.meshes.length > 0 ? ok({ text, raw: raw.value, file }) : fail(noSolids(file));
}

function bytesOf(file: string): Result<Uint8Array, Issue> {
  try {
    return ok(readFileSync(file));
  } catch (error) {
    return fail(unreadableFile(file, error));
  }
}

/** Names of old files are not always in UTF-8; then they are taken for Latin-1, in which every byte is a letter. */
function textOf(content: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(content);
  } catch {
    return new TextDecoder('latin1').decode(content);
  }
}

const about = (file: string): Pick<Issue, 'severity' | 'file' | 'line' | 'path'> => ({
  ...{ severity: 'error', file, line: 0, path: '' },
});

const notStep = (file: string): Issue => ({
  ...{ code: 'step-unreadable', ...about(file) },
  problem: 'the file does not begin with `ISO-10303-21;` as a STEP file does',
  remedy: 'export the solids as STEP (ISO 10303-21), unpacked',
});

const noSolids = (file: string): Issue => ({
  ...{ code: 'step-without-solids', ...about(file) },
  problem: 'the file has no solids',
  remedy: 'export solids, not only curves, points or the tree of an assembly that names other files',
});

function failureIssue(file: string, failure: StepFailure): Issue {
  if (failure === 'missing')
    return {
      ...{ code: 'step-library', ...about(file) },
      problem: `STEP files are read by the library ${STEP_LIBRARY}, which is not installed`,
      remedy: `install it once with: npm install ${STEP_LIBRARY}`,
    };
  const broken = failure === 'broken';
  return {
    ...{ code: 'step-unreadable', ...about(file) },
    problem: broken
      ? `the library ${STEP_LIBRARY} broke down over this file`
      : 'the file cannot be read as STEP, or has no shapes',
    remedy: broken
      ? 'export fewer solids at a time, or export anew'
      : 'export the solids anew as STEP AP203 or AP214',
  };
}

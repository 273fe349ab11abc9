import type { LinearPrograms } from '../algorithms/linear-program.js';
import { hasError } from '../io/issue-at.js';
import type { RawStep } from '../io/step/raw-step.js';
import { stepParts } from '../io/step/step-parts.js';
import { stepWeldment } from '../io/step/step-weldment.js';
import { reviewDraft, type DraftOutcome } from './review-draft.js';

/** A STEP file as it was read. */
export interface StepSource {
  /** For the names. */
  readonly text: string;
  readonly raw: RawStep;
  readonly file: string;
}

/**
 * A weldment file, to be looked through, of the solids of a STEP file, with joints proposed from their contacts. Issues about the
 * STEP file come first, then what the weldment file has to be mended in.
 *
 * @param target of the weldment file: its name within, and that by which issues call it
 */
export function importedStep(
  { text, raw, file }: StepSource,
  target: { readonly name: string; readonly file: string },
  programs: LinearPrograms,
): DraftOutcome {
  const { solids, issues } = stepParts(text, raw, file);
  if (hasError(issues)) return { kind: 'bad-input', issues };
  const base = file.split(/[/\\]/).at(-1)!;
  const outcome = reviewDraft({ ...stepWeldment(target.name, base, solids), name: target.file }, programs);
  return { ...outcome, issues: [...issues, ...outcome.issues] };
}

import type { LinearPrograms } from '../algorithms/linear-program.js';
import { weldmentYaml, type WeldmentNotes } from '../io/weldment-yaml.js';
import type { Issue } from '../model/issue.js';
import type { Inspection } from '../report/inspection.js';
import { amount, counted } from '../report/numbers.js';
import { inspectSession } from './inspect-session.js';

/** A weldment file that something made, to be looked through by a person. */
export interface Draft {
  /** Its content; without `joints` they are proposed from the contacts. */
  readonly file: object;
  readonly notes: WeldmentNotes;
  /** By which issues call it. */
  readonly name: string;
}

export type DraftOutcome =
  | {
      readonly kind: 'drafted';
      /** The file as YAML, with its joints. */
      readonly text: string;
      readonly inspection: Inspection;
      /** What the geometry contradicts, and what is likely a mistake; all of it is left for the review. */
      readonly issues: readonly Issue[];
    }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] };

/**
 * Writes a weldment file for review: what `readWeldment` takes, with proposed joints where it names none. What only the
 * geometry contradicts, as parts that overlap, becomes a warning: it is mended in the file more easily than where it came from.
 */
export function reviewDraft({ file, notes, name }: Draft, programs: LinearPrograms): DraftOutcome {
  const text = weldmentYaml(file, notes);
  const outcome = inspectSession({ weldment: { text, name } }, programs);
  if (outcome.kind !== 'inspected') return { kind: 'bad-input', issues: outcome.issues };
  const { inspection } = outcome;
  const issues = outcome.issues.map((issue): Issue => ({ ...issue, severity: 'warning' }));
  if ('joints' in file) return { kind: 'drafted', text, inspection, issues };
  return { kind: 'drafted', text: withJoints({ file, notes, name }, inspection), inspection, issues };
}

function withJoints({ file, notes }: Draft, { joints }: Inspection): string {
  const entries = joints.map(({ between, type, leg }) => ({ between, type, leg, sides: 'both' }));
  const remarks = joints.map(({ seams }) => {
    const lengths = seams.map(({ length }) => `${amount(length)} mm`);
    return `${counted(seams.length, 'seam')}: ${lengths.join(', ')}`;
  });
  const lines = [
    'proposed from the contacts: strike what is not welded, and set types, legs and sides by the drawing',
  ];
  return weldmentYaml(
    { ...file, joints: entries },
    { ...notes, above: { ...notes.above, joints: lines }, joints: remarks },
  );
}

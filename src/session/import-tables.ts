import type { LinearPrograms } from '../algorithms/linear-program.js';
import { hasError, inFileOrder } from '../io/issue-at.js';
import { atOrigin, weldmentOfTables, type WeldmentTables } from '../io/tables/weldment-of-tables.js';
import { reviewDraft, type DraftOutcome } from './review-draft.js';

/** Makes a weldment file of tables of parts and joints. Every issue names the row and the column that it came from. */
export function importTables(tables: WeldmentTables, programs: LinearPrograms): DraftOutcome {
  const { file, notes, origins, issues } = weldmentOfTables(tables);
  if (hasError(issues)) return { kind: 'bad-input', issues };
  const outcome = reviewDraft({ file, notes, name: tables.parts.file }, programs);
  const otherwise = { file: tables.parts.file, line: 0, column: '' };
  const placed = outcome.issues.map((issue) => atOrigin(issue, origins, otherwise));
  const ofParts = placed.filter((issue) => issue.file === tables.parts.file);
  const ofJoints = placed.filter((issue) => issue.file !== tables.parts.file);
  return { ...outcome, issues: [...inFileOrder(ofParts), ...inFileOrder(ofJoints)] };
}

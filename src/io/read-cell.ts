import type { Cell } from '../model/cell.js';
import { cellFileSchema } from '../model/cell-file.js';
import { cellIssues } from './cell-checks.js';
import { readDocument } from './document.js';
import type { Judge, Reading } from './reading.js';
import { judgeBy, readBy } from './reading.js';
import { resolveCell } from './resolve-cell.js';
import { filesNamedBy, urdfArms, type TextsBeside } from './urdf-arms.js';

/** Judges a cell together with the URDF files that it names; their content is part of what it is. */
const judgeCell =
  (texts: TextsBeside): Judge<Cell> =>
  (document) => {
    const { arms, issues, digests } = urdfArms(document, texts);
    const judge = judgeBy(
      cellFileSchema,
      (given) => [...cellIssues(given), ...issues],
      (file) => resolveCell(file, arms),
    );
    const judgement = judge(document);
    const { accepted } = judgement;
    if (accepted === undefined || Object.keys(digests).length === 0) return judgement;
    return { ...judgement, accepted: { ...accepted, content: { file: accepted.content, beside: digests } } };
  };

/**
 * Reads a cell file (YAML or JSON). All issues are told in one run; a value comes only without errors. `beside` has the
 * texts of the URDF files that it names, by the paths that it writes.
 */
export const readCell = (text: string, file: string, beside: TextsBeside = {}): Reading<Cell> =>
  readBy(text, file, judgeCell(beside), 'cell');

/** The files that a cell file names, by plain paths from its own folder; none of a text that cannot be read. */
export function filesBesideCell(text: string): readonly string[] {
  const { document } = readDocument(text, '');
  return document === undefined ? [] : filesNamedBy(document);
}

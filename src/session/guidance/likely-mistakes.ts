import type { Facts } from '../../facts/facts.js';
import type { SourceDocument } from '../../io/document.js';
import { issueAt } from '../../io/issue-at.js';
import type { Issue } from '../../model/issue.js';
import type { AbstractWeldment } from '../../model/weldment.js';
import { gripMistakes, payloadMistakes, stationMistakes } from './cell-mistakes.js';
import type { Mistake } from './mistake.js';
import { abstractPieces, pieceMistakes } from './piece-mistakes.js';
import { placeMistakes } from './place-mistakes.js';
import { shapeMistakes } from './shape-mistakes.js';

interface Documents {
  readonly weldmentDocument: SourceDocument;
  /** Absent when the weldment is looked at without a cell. */
  readonly cellDocument: SourceDocument | undefined;
}

/**
 * Warnings of what can be planned as it is and is likely to be a mistake, each with its place and what to do. They are
 * silent where an error says as much (session/contradictions.ts). `docs/codes.md` lists them all.
 */
export function likelyMistakes(
  facts: Facts,
  { weldmentDocument, cellDocument }: Documents,
): readonly Issue[] {
  const ofWeldment = [
    ...shapeMistakes(facts),
    ...placeMistakes(facts),
    ...pieceMistakes(facts),
    ...gripMistakes(facts),
    ...(cellDocument ? payloadMistakes(facts) : []),
  ];
  return [
    ...ofWeldment.map(warningIn(weldmentDocument)),
    ...(cellDocument ? stationMistakes(facts).map(warningIn(cellDocument)) : []),
  ];
}

/** The same of a weldment without shapes. */
export const abstractMistakes = (weldment: AbstractWeldment, document: SourceDocument): readonly Issue[] =>
  abstractPieces(weldment).map(warningIn(document));

const warningIn =
  (document: SourceDocument) =>
  ({ path, code, problem, remedy }: Mistake): Issue =>
    issueAt(document, path, { code, severity: 'warning', problem, remedy });

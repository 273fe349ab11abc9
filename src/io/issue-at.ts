import type { Issue } from '../model/issue.js';
import { compareText } from '../base/order.js';
import type { SourceDocument } from './document.js';
import type { Path } from './show.js';
import { showPath } from './show.js';

/** What an issue says, apart from where it is. */
export interface Complaint {
  readonly code: string;
  readonly severity?: Issue['severity'];
  readonly problem: string;
  readonly remedy: string;
}

/** An issue at a place of a document, with file and line filled in. An error unless it says otherwise. */
export const issueAt = (document: SourceDocument, path: Path, complaint: Complaint): Issue => ({
  code: complaint.code,
  severity: complaint.severity ?? 'error',
  file: document.file,
  line: document.lineOf(path),
  path: showPath(path),
  problem: complaint.problem,
  remedy: complaint.remedy,
});

/** Issues in the order of the file, each defect once. */
export function inFileOrder(issues: readonly Issue[]): readonly Issue[] {
  const distinct = new Map(issues.map((issue) => [`${issue.line} ${issue.path} ${issue.problem}`, issue]));
  return [...distinct.values()].sort((a, b) => a.line - b.line || compareText(a.path, b.path));
}

export const hasError = (issues: readonly Issue[]): boolean =>
  issues.some(({ severity }) => severity === 'error');

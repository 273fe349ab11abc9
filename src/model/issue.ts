/** Something wrong, or worth a warning, in an input file. Data first; `issueLine` makes the prose. */
export interface Issue {
  readonly code: string;
  readonly severity: 'error' | 'warning';
  readonly file: string;
  /** 1-based; 0 when no place in the file is known. */
  readonly line: number;
  /** Where in the document, as `parts.web.plate.length`; empty for the whole file. */
  readonly path: string;
  /** What is wrong, with the value. */
  readonly problem: string;
  /** What would be right. */
  readonly remedy: string;
}

/** One line: `file:line: path: problem, remedy`. */
export function issueLine(issue: Issue): string {
  const where = issue.line > 0 ? `${issue.file}:${issue.line}` : issue.file;
  const path = issue.path === '' ? '' : `${issue.path}: `;
  const warning = issue.severity === 'warning' ? 'warning: ' : '';
  return `${where}: ${path}${warning}${issue.problem}; ${issue.remedy}`;
}

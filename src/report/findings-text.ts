import type { Finding } from '../model/finding.js';
import { issueLine, type Issue } from '../model/issue.js';
import { plain } from './plain.js';

/** One line an issue, as `file:line: path: what is wrong; what would be right`; empty without issues. */
export const issuesText = (issues: readonly Issue[]): string =>
  issues.map((issue) => `${plain(issueLine(issue))}\n`).join('');

/** One line a finding, as `rule: where: what is broken`; empty without findings. */
export const findingsText = (findings: readonly Finding[]): string =>
  findings.map(({ rule, where, message }) => `${plain(rule)}: ${plain(where)}: ${plain(message)}\n`).join('');

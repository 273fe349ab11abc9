import type { Finding } from '../model/finding.js';
import { issueLine, type Issue } from '../model/issue.js';
import { counted } from './numbers.js';
import { plain } from './plain.js';

/** One line an issue, as `file:line: path: what is wrong; what would be right`; empty without issues. */
export const issuesText = (issues: readonly Issue[]): string =>
  issues.map((issue) => `${plain(issueLine(issue))}\n`).join('');

/** One line a finding, as `rule: where: what is broken`, and how many there are. */
export function findingsText(findings: readonly Finding[]): string {
  if (findings.length === 0) return 'No rule is broken.\n';
  const lines = findings.map(
    ({ rule, where, message }) => `${plain(rule)}: ${plain(where)}: ${plain(message)}\n`,
  );
  const rules = new Set(findings.map(({ rule }) => rule)).size;
  return `${lines.join('')}${counted(findings.length, 'finding')} of ${counted(rules, 'rule')}.\n`;
}

import type { Finding } from '../model/finding.js';
import { issueLine, type Issue } from '../model/issue.js';
import { plain } from './plain.js';

/** One line an issue, as `file:line: path: what is wrong; what would be right`; empty without issues. */
export const issuesText = (issues: readonly Issue[]): string =>
  issues.map((issue) => `${plain(issueLine(issue))}\n`).join('');

const findingText = ({ rule, where, message, trace = [] }: Finding): string =>
  [`${plain(rule)}: ${plain(where)}: ${plain(message)}`, ...trace.map((line) => `    ${plain(line)}`)]
    .map((line) => `${line}\n`)
    .join('');

/** One line a finding, as `rule: where: what is broken`, and its trace indented below; empty without findings. */
export const findingsText = (findings: readonly Finding[]): string => findings.map(findingText).join('');

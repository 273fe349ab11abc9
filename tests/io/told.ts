import type { Issue } from '../../src/model/issue.js';
import { issueLine } from '../../src/model/issue.js';

/** Issues as the terminal shows them, one a line. */
export const told = ({ issues }: { readonly issues: readonly Issue[] }): readonly string[] =>
  issues.map(issueLine);

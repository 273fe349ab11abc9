import type { Pose } from '../../src/geometry/pose.js';
import type { Issue } from '../../src/model/issue.js';
import { issueLine } from '../../src/model/issue.js';

/** Issues as the terminal shows them, one a line. */
export const told = ({ issues }: { readonly issues: readonly Issue[] }): readonly string[] =>
  issues.map(issueLine);

/** A rotation without the negative zeros of products, which are equal but not the same to a test. */
export const plainTurn = ({ turn }: Pose): readonly number[] => turn.map((cell) => cell + 0);

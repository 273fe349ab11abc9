import type { Finding } from '../model/finding.js';
import { plain } from './plain.js';

/** What became of a plan that was started from, in one line. */
export function warmStartText({
  legal,
  stoppedBy,
  kept,
}: {
  readonly legal: boolean;
  readonly stoppedBy?: Finding | undefined;
  readonly kept: boolean;
}): string {
  if (kept) return 'Started from: the earlier plan is still legal, nothing better was found, and it is kept.';
  if (legal) return 'Started from: the earlier plan is still legal; this one is as good or better.';
  const why =
    stoppedBy === undefined
      ? ''
      : `: ${plain(stoppedBy.message)} (rule \`${plain(stoppedBy.rule)}\`, at ${plain(stoppedBy.where)} of that plan)`;
  return `Started from: the earlier plan is not legal for these files${why}; it was taken up as far as it is, and nothing is to be done about it: use the new plan. \`tackwright check\` with the earlier one tells all that is wrong with it.`;
}

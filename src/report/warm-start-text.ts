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
      : ` (${plain(stoppedBy.rule)}: ${plain(stoppedBy.where)}: ${plain(stoppedBy.message)})`;
  return `Started from: the earlier plan is no longer legal${why}; it was taken up as far as it is.`;
}

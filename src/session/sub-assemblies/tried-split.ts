import type { TriedSplit } from '../../model/plan-whole.js';
import type { LyingSubAssembly } from '../../model/sub-assembly.js';
import type { Refusal } from '../../model/verdict.js';
import type { SplitOutcome, Unplanned } from './split-plan.js';

type Reason = NonNullable<TriedSplit['reason']>;

/** A split that was tried, as a plan tells of it. */
export function triedSplit(groups: readonly LyingSubAssembly[], outcome: SplitOutcome): TriedSplit {
  const tried = { groups: groups.map(({ parts, rest }) => ({ parts: [...parts], rest })) };
  switch (outcome.kind) {
    case 'planned':
      return { ...tried, outcome: 'planned', objective: outcome.totals.objective };
    case 'dearer':
      return { ...tried, outcome: 'dearer' };
    case 'refused': {
      const { rule, where, value, limit } = outcome.findings[0]!;
      return {
        ...tried,
        outcome: 'refused',
        reason: numbered({ code: rule, subjects: [where], value, limit }),
      };
    }
    case 'unplanned':
      return { ...tried, of: outcome.of, ...whyUnplanned(outcome.outcome) };
  }
}

function whyUnplanned(outcome: Unplanned): Pick<TriedSplit, 'outcome' | 'reason'> {
  switch (outcome.kind) {
    case 'impossible':
    case 'none-found': {
      const [reason] = outcome.reasons;
      return { outcome: outcome.kind, ...(reason && { reason: numbered(nearestOf(reason)) }) };
    }
    case 'bad-input': {
      const issue = outcome.issues.find(({ severity }) => severity === 'error')!;
      return { outcome: 'refused', reason: { code: issue.code, subjects: [issue.path] } };
    }
    case 'defect': {
      const { rule, where } = outcome.findings[0]!;
      return { outcome: 'refused', reason: { code: rule, subjects: [where] } };
    }
  }
}

/** A reason with the numbers of its nearest miss where it has none of its own. */
const nearestOf = ({ code, subjects, value, limit, nearest }: Refusal): Numbered =>
  value === undefined && nearest
    ? { code, subjects, value: nearest.value, limit: nearest.limit }
    : { code, subjects, value, limit };

interface Numbered {
  readonly code: string;
  readonly subjects: readonly string[];
  readonly value?: number | undefined;
  readonly limit?: number | undefined;
}

const numbered = ({ code, subjects, value, limit }: Numbered): Reason => ({
  code,
  subjects: [...subjects],
  ...(value !== undefined && { value }),
  ...(limit !== undefined && { limit }),
});

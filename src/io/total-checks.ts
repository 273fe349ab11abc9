import type { Issue } from '../model/issue.js';
import { ABSTRACT_DEFAULTS } from '../model/weldment.js';
import { MOST_REGRIPS, MOST_SECONDS } from '../model/weldment-totals.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { entriesAt, membersAt, numberAt } from './raw-view.js';
import type { Path } from './show.js';

/** Regrips and times of parts without shapes that add up to more than the search can count without rounding. */
export function totalsTooLarge(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  const parts = membersAt(value, ['parts']);
  const most = (path: Path, key: string): number =>
    entriesAt(value, [...path, 'ways']).reduce(
      (largest, way) => Math.max(largest, numberAt(value, [...way.path, key]) ?? 0),
      0,
    );
  const total = (key: string): number => parts.reduce((sum, { path }) => sum + most([...path], key), 0);
  const tacks = entriesAt(value, ['joints']).reduce(
    (sum, { path }) => sum + (numberAt(value, [...path, 'tacks']) ?? ABSTRACT_DEFAULTS.tacks),
    0,
  );
  const seconds =
    total('seconds') +
    tacks * (numberAt(value, ['times', 'tack']) ?? ABSTRACT_DEFAULTS.tack) +
    parts.length * (numberAt(value, ['times', 'tool-change']) ?? ABSTRACT_DEFAULTS.toolChange);
  const issue = (what: string, given: number, limit: number): Issue =>
    issueAt(document, ['parts'], {
      code: 'total-too-large',
      problem: `the ${what} may add up to ${given.toPrecision(3)}, more than the ${limit} that can be counted`,
      remedy: `give true ${what}`,
    });
  return [
    ...(total('regrips') > MOST_REGRIPS ? [issue('regrips', total('regrips'), MOST_REGRIPS)] : []),
    ...(seconds > MOST_SECONDS ? [issue('seconds', seconds, MOST_SECONDS)] : []),
  ];
}

import type { Issue } from '../model/issue.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import type { Found } from './raw-view.js';
import { entriesAt, membersAt, textAt, textsAt } from './raw-view.js';
import type { Path } from './show.js';
import { showNames, showValue } from './show.js';

/** A pair of part names in a joint or a contact, and the path of its entry. */
export type FoundPair = Found<readonly [string, string]>;

/** The ids of the parts of a raw weldment document. */
export const partIds = (document: SourceDocument): readonly string[] =>
  membersAt(document.value, ['parts']).map(({ path }) => String(path[1]));

/** The pairs of `joints` or `contacts`, written as `[a, b]` or as `{ between: [a, b] }`. */
export const pairsIn = (document: SourceDocument, list: 'joints' | 'contacts'): readonly FoundPair[] =>
  entriesAt(document.value, [list]).flatMap(({ path, value }) => {
    const names = textsAt(document.value, placeOfPair(path, value));
    return names.length === 2 ? [{ path, value: [names[0]!.value, names[1]!.value] as const }] : [];
  });

const placeOfPair = (path: Path, value: unknown): Path =>
  Array.isArray(value) ? path : [...path, 'between'];

/** Issues for every part that is named anywhere but is not among the parts. */
export function unknownPartIssues(document: SourceDocument): readonly Issue[] {
  const ids = partIds(document);
  const known = new Set(ids);
  return mentions(document)
    .filter(({ value }) => !known.has(value))
    .map(({ path, value }) => {
      const nearest = nearestWord(value, ids);
      return issueAt(document, path, {
        code: 'unknown-part',
        problem: `no part is named ${showValue(value)}`,
        remedy:
          nearest === undefined ? `the parts are ${showNames(ids)}` : `maybe \`${showNames([nearest])}\``,
      });
    });
}

function mentions(document: SourceDocument): readonly Found<string>[] {
  const { value } = document;
  const inPairs = (['joints', 'contacts'] as const).flatMap((list) =>
    entriesAt(value, [list]).flatMap((entry) => textsAt(value, placeOfPair(entry.path, entry.value))),
  );
  const inOrder = [...entriesAt(value, ['blocking']), ...entriesAt(value, ['needs'])].flatMap(({ path }) => [
    ...textAt(value, [...path, 'part']),
    ...textsAt(value, [...path, 'by']),
    ...textsAt(value, [...path, 'after']),
  ]);
  const inTolerances = entriesAt(value, ['tolerances']).flatMap(({ path }) => [
    ...textAt(value, [...path, 'from']),
    ...textAt(value, [...path, 'to']),
  ]);
  const inGroups = entriesAt(value, ['sub-assemblies']).flatMap(({ path }) =>
    textsAt(value, [...path, 'parts']),
  );
  return [...inPairs, ...inOrder, ...inTolerances, ...inGroups, ...textAt(value, ['first'])];
}

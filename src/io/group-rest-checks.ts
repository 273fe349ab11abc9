import { groupShape } from '../model/group-part.js';
import type { Issue } from '../model/issue.js';
import { MATERIALS } from '../model/material.js';
import { restPlanes } from '../model/part-rests.js';
import { weldmentFileSchema } from '../model/weldment.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import { entriesAt } from './raw-view.js';
import { resolveWeldment } from './resolve-weldment.js';
import { showNames, showValue } from './show.js';

/** Rests of sub-assemblies that their parts together do not have; a file that is not sound in itself is passed over. */
export function groupRestIssues(document: SourceDocument): readonly Issue[] {
  if (entriesAt(document.value, ['sub-assemblies']).length === 0) return [];
  const file = weldmentFileSchema.safeParse(document.value);
  const groups = file.success ? file.data['sub-assemblies'] : undefined;
  if (!file.success || !Array.isArray(groups)) return [];
  const weldment = resolveWeldment(file.data);
  const sound = (id: string): boolean =>
    weldment.parts.some((part) => part.id === id && MATERIALS.includes(part.material));
  return groups.flatMap((group, i) => {
    const { name, parts, rest } = group;
    if (rest === undefined || !parts.every(sound)) return [];
    const planes = restPlanes(groupShape(weldment, group));
    if (planes.some((plane) => plane.name === rest)) return [];
    const names = planes.filter(({ rolls }) => !rolls).map((plane) => plane.name);
    const nearest = nearestWord(rest, names);
    return [
      issueAt(document, ['sub-assemblies', i, 'rest'], {
        code: 'unknown-face',
        problem: `${showValue(name)} has no rest ${showValue(rest)}`,
        remedy: `${nearest === undefined ? '' : `maybe \`${nearest}\`: `}use one of ${showNames(names)}`,
      }),
    ];
  });
}

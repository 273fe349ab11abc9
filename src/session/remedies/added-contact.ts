import type { Ladder } from './ladder.js';
import { singleChange } from './number-ladder.js';
import { stuckParts, type AbstractTrouble, type Trouble } from './trouble.js';

type Pair = readonly [string, string];

/** Groups of parts that contacts join, each in the order of the file. */
function groupsOf(parts: readonly string[], contacts: readonly Pair[]): readonly (readonly string[])[] {
  const groupOf = new Map(parts.map((part) => [part, part]));
  for (const [a, b] of contacts) {
    const [kept, lost] = [groupOf.get(a)!, groupOf.get(b)!];
    for (const [part, group] of groupOf) if (group === lost) groupOf.set(part, kept);
  }
  return [...new Set(groupOf.values())].map((group) => parts.filter((part) => groupOf.get(part) === group));
}

/** Joins groups of parts without shapes that no contact joins, by the first part of each. */
export function addedContact(trouble: Trouble | AbstractTrouble): readonly Ladder[] {
  const { contacts } = trouble.weldment;
  if (trouble.kind !== 'abstract' || contacts === undefined || stuckParts(trouble, 'contact').length === 0)
    return [];
  const groups = groupsOf(Object.keys(trouble.weldment.parts), contacts);
  const heads = groups.map(([head]) => head!);
  if (heads.length < 2) return [];
  const added = heads.slice(1).map((head): Pair => [heads[0]!, head]);
  return [
    singleChange('added-contact', 'joint', {
      words: `let ${added.map((pair) => pair.join(' and ')).join(', ')} touch`,
      edits: [{ file: 'weldment', path: ['contacts'], from: contacts, to: [...contacts, ...added] }],
      caution: 'only where these parts really meet, or are made to',
    }),
  ];
}

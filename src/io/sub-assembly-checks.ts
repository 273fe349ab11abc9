import type { Issue } from '../model/issue.js';
import { findMaterial } from '../model/material.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { needsCycles } from './needs-cycles.js';
import { pairsIn, partIds } from './part-mentions.js';
import { entriesAt, textAt, textsAt, type Found } from './raw-view.js';
import { valueAt } from './schema-at.js';
import { showNames, showValue, type Path } from './show.js';

/** A sub-assembly as a raw document has it. */
interface RawGroup {
  readonly path: Path;
  readonly name: Found<string> | undefined;
  readonly parts: readonly Found<string>[];
}

const groupsIn = ({ value }: SourceDocument): readonly RawGroup[] =>
  entriesAt(value, ['sub-assemblies']).map(({ path }) => ({
    path,
    name: textAt(value, [...path, 'name'])[0],
    parts: textsAt(value, [...path, 'parts']),
  }));

/** What is wrong with the sub-assemblies that a weldment file names; unknown parts and rests are told elsewhere. */
export function subAssemblyIssues(document: SourceDocument): readonly Issue[] {
  const groups = groupsIn(document);
  if (groups.length === 0) return [];
  return [
    ...namesTaken(document, groups),
    ...partsTwice(document, groups),
    ...ofAllParts(document, groups),
    ...groups.flatMap((group) => [
      ...setByHand(document, group),
      ...unlikeMaterials(document, group),
      ...notJoined(document, group),
    ]),
    ...cyclesBetween(document, groups),
  ];
}

function namesTaken(document: SourceDocument, groups: readonly RawGroup[]): readonly Issue[] {
  const taken = new Set(partIds(document));
  return groups.flatMap(({ name }) => {
    if (name === undefined) return [];
    const before = taken.has(name.value);
    taken.add(name.value);
    if (!before) return [];
    return [
      issueAt(document, name.path, {
        code: 'sub-assembly-name-taken',
        problem: `a part or another sub-assembly is named ${showValue(name.value)}`,
        remedy: 'give it a name of its own',
      }),
    ];
  });
}

function partsTwice(document: SourceDocument, groups: readonly RawGroup[]): readonly Issue[] {
  const first = new Map<string, number>();
  return groups.flatMap(({ parts }, at) =>
    parts.flatMap(({ path, value }) => {
      const earlier = first.get(value);
      if (earlier === undefined) {
        first.set(value, at);
        return [];
      }
      return [
        issueAt(document, path, {
          code: 'part-in-two-sub-assemblies',
          problem: `${showValue(value)} is in sub-assemblies[${earlier}] already`,
          remedy: 'name each part once',
        }),
      ];
    }),
  );
}

/** One sub-assembly with every part: nothing is left that it could be joined to. */
function ofAllParts(document: SourceDocument, groups: readonly RawGroup[]): readonly Issue[] {
  const ids = partIds(document);
  return groups
    .filter(({ parts }) => ids.every((id) => parts.some(({ value }) => value === id)))
    .map(({ path }) =>
      issueAt(document, [...path, 'parts'], {
        code: 'sub-assembly-of-all-parts',
        problem: `got all ${ids.length} parts of the weldment`,
        remedy: 'leave one part out at least, or strike the sub-assembly',
      }),
    );
}

function setByHand(document: SourceDocument, { parts }: RawGroup): readonly Issue[] {
  const manual = (part: string): unknown => valueAt(document.value, ['parts', part, 'manual']);
  return parts
    .filter(({ value }) => manual(value) !== undefined && manual(value) !== false)
    .map(({ path, value }) =>
      issueAt(document, path, {
        code: 'manual-in-sub-assembly',
        problem: `${showValue(value)} is \`manual\`, and robots tack sub-assemblies`,
        remedy: 'leave it out of the sub-assembly, or strike `manual`',
      }),
    );
}

/** A magnet that takes such a sub-assembly would be rated for the wrong half of it. */
function unlikeMaterials(document: SourceDocument, { path, parts }: RawGroup): readonly Issue[] {
  const { value } = document;
  const common = textAt(value, ['material'])[0]?.value ?? 'S235';
  const materials = parts.flatMap((part) => {
    const name = textAt(value, ['parts', part.value, 'material'])[0]?.value ?? common;
    return findMaterial(name) ?? [];
  });
  if (new Set(materials.map(({ magnetic }) => magnetic)).size < 2) return [];
  return [
    issueAt(document, [...path, 'parts'], {
      code: 'unlike-materials-in-sub-assembly',
      problem: `magnets hold ${showNames([...new Set(materials.map(({ name }) => name))])} unlike well`,
      remedy: 'group parts that magnets hold alike',
    }),
  ];
}

/** Parts that the joints given do not lead to from the first; where joints are proposed, the plan of it tells. */
function notJoined(document: SourceDocument, { path, parts }: RawGroup): readonly Issue[] {
  if (valueAt(document.value, ['joints']) === undefined || parts.length < 2) return [];
  const ids = parts.map(({ value }) => value);
  if (ids.some((id) => !partIds(document).includes(id))) return [];
  const reached = new Set([ids[0]!]);
  const pairs = pairsIn(document, 'joints').filter(({ value }) => value.every((id) => ids.includes(id)));
  for (const id of reached)
    for (const { value } of pairs) if (value.includes(id)) for (const other of value) reached.add(other);
  const left = ids.filter((id) => !reached.has(id));
  if (left.length === 0) return [];
  return [
    issueAt(document, [...path, 'parts'], {
      code: 'sub-assembly-not-joined',
      problem: `no joints within it lead from ${showValue(ids[0]!)} to ${showNames([...new Set(left)])}`,
      remedy: 'add the part between them, or leave these out',
    }),
  ];
}

/** Needs that form a cycle only since parts join together. */
function cyclesBetween(document: SourceDocument, groups: readonly RawGroup[]): readonly Issue[] {
  const { value } = document;
  const groupOf = new Map(
    groups.flatMap(({ name, parts }) => parts.map((part) => [part.value, name?.value ?? ''] as const)),
  );
  const called = (part: string): string => groupOf.get(part) ?? part;
  const needs = entriesAt(value, ['needs']).flatMap(({ path }) =>
    textAt(value, [...path, 'part']).flatMap((part) =>
      textsAt(value, [...path, 'after']).map((after) => ({ part: part.value, after: after.value })),
    ),
  );
  if (needsCycles(needs).length > 0) return [];
  const together = needs.map(({ part, after }) => ({ part: called(part), after: called(after) }));
  return needsCycles(together).map((cycle) =>
    issueAt(document, ['sub-assemblies'], {
      code: 'cycle',
      problem: `with these sub-assemblies needs form a cycle: ${showNames(cycle)}`,
      remedy: 'group other parts, or drop one of the needs',
    }),
  );
}

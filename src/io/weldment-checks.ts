import { findMaterial, MATERIALS } from '../model/material.js';
import type { Issue } from '../model/issue.js';
import type { SourceDocument } from './document.js';
import { faceIssues } from './face-checks.js';
import { issueAt } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import { needsCycles } from './needs-cycles.js';
import { pairsIn, unknownPartIssues } from './part-mentions.js';
import type { Found } from './raw-view.js';
import { entriesAt, membersAt, textAt, textsAt } from './raw-view.js';
import { groupRestIssues } from './group-rest-checks.js';
import { showPath, showValue } from './show.js';
import { subAssemblyIssues } from './sub-assembly-checks.js';
import { totalsTooLarge } from './total-checks.js';
import { looksLikeOtherUnits } from './unit-checks.js';

type Check = (document: SourceDocument) => readonly Issue[];

const CHECKS: readonly Check[] = [
  noParts,
  unknownPartIssues,
  unknownMaterials,
  faceIssues,
  jointsGivenTwice,
  selfReferences,
  cyclicNeeds,
  handledByHand,
  subAssemblyIssues,
  groupRestIssues,
  looksLikeOtherUnits,
  totalsTooLarge,
];

/** What no schema can tell of a weldment file, geometric or abstract: one issue for each defect. */
export const weldmentIssues: Check = (document) => CHECKS.flatMap((check) => check(document));

function noParts(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  const parts =
    typeof value === 'object' && value !== null ? (value as { parts?: unknown }).parts : undefined;
  if (typeof parts !== 'object' || parts === null || Object.keys(parts).length > 0) return [];
  return [
    issueAt(document, ['parts'], { code: 'no-parts', problem: 'got no parts', remedy: 'give at least one' }),
  ];
}

function unknownMaterials(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  const names = MATERIALS.map(({ name }) => name);
  const given = [
    ...textAt(value, ['material']),
    ...membersAt(value, ['parts']).flatMap(({ path }) => textAt(value, [...path, 'material'])),
  ];
  return given
    .filter((material) => findMaterial(material.value) === undefined)
    .map((material) => {
      const nearest = nearestWord(material.value, names);
      const maybe = nearest === undefined ? '' : `maybe \`${nearest}\`: `;
      return issueAt(document, material.path, {
        code: 'unknown-material',
        problem: `unknown material ${showValue(material.value)}`,
        remedy: `${maybe}use one of ${names.join(', ')}`,
      });
    });
}

function jointsGivenTwice(document: SourceDocument): readonly Issue[] {
  const first = new Map<string, Found<unknown>>();
  return pairsIn(document, 'joints').flatMap((joint) => {
    const key = JSON.stringify([...joint.value].sort());
    const earlier = first.get(key);
    if (earlier === undefined) {
      first.set(key, joint);
      return [];
    }
    const [a, b] = joint.value;
    return [
      issueAt(document, joint.path, {
        code: 'duplicate-joint',
        problem: `${showValue(a)} and ${showValue(b)} are joined already by ${showPath(earlier.path)} at line ${document.lineOf(earlier.path)}`,
        remedy: 'keep one joint for a pair of parts',
      }),
    ];
  });
}

function selfReferences(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  const inOrder = [...entriesAt(value, ['blocking']), ...entriesAt(value, ['needs'])].flatMap(({ path }) => {
    const part = textAt(value, [...path, 'part'])[0]?.value;
    const others = [...textsAt(value, [...path, 'by']), ...textsAt(value, [...path, 'after'])];
    return others.filter((other) => other.value === part);
  });
  const inTolerances = entriesAt(value, ['tolerances']).flatMap(({ path }) => {
    const from = textAt(value, [...path, 'from'])[0]?.value;
    return textAt(value, [...path, 'to']).filter((to) => to.value === from);
  });
  return [...inOrder, ...inTolerances].map(({ path, value: name }) =>
    issueAt(document, path, {
      code: 'self-reference',
      problem: `${showValue(name)} refers to itself`,
      remedy: 'name another part',
    }),
  );
}

function cyclicNeeds(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  const needs = entriesAt(value, ['needs']).flatMap(({ path }) =>
    textAt(value, [...path, 'part']).flatMap((part) =>
      textsAt(value, [...path, 'after']).map((after) => ({ path, part: part.value, after: after.value })),
    ),
  );
  return needsCycles(needs).map((cycle) => {
    const steps = cycle.map((part, i) => ({ part, after: cycle[(i + 1) % cycle.length]! }));
    const here = needs.find(({ part, after }) => part === steps[0]!.part && after === steps[0]!.after);
    return issueAt(document, here?.path ?? ['needs'], {
      code: 'cycle',
      problem: `needs form a cycle: ${steps.map(({ part, after }) => `${showValue(part)} after ${showValue(after)}`).join(', ')}`,
      remedy: 'drop one of them',
    });
  });
}

/** What only a robot asks about, given for parts that a person sets. */
function handledByHand(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  return membersAt(value, ['parts']).flatMap((part) => {
    const members = membersAt(value, part.path);
    const keys = members.map(({ path }) => String(path.at(-1)));
    const manual = members.find(({ path }) => path.at(-1) === 'manual');
    if (manual === undefined || manual.value === false) return [];
    return ['rest', 'grips', 'approach']
      .filter((key) => keys.includes(key))
      .map((key) =>
        issueAt(document, [...part.path, key], {
          code: 'manual-and-handled',
          problem: `${showValue(String(part.path.at(-1)))} is \`manual\`: no robot takes or brings it`,
          remedy: `strike \`${key}\`, or strike \`manual\``,
        }),
      );
  });
}

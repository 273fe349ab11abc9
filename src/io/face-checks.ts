import type { Issue } from '../model/issue.js';
import { partThickness, shapeSolid } from '../model/part-geometry.js';
import { restPlanes } from '../model/part-rests.js';
import { shapeFileSchema, shapeOf, type Shape } from '../model/shape.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import type { Found } from './raw-view.js';
import { entriesAt, membersAt, textAt } from './raw-view.js';
import { showNames, showValue } from './show.js';

/** Nothing thinner than this, mm, has faces to speak of; it is warned of elsewhere. */
const THINNEST = 1e-3;

/** Faces that grips and rests name, against what each part's own shape has; parts without a sound shape are passed over. */
export const faceIssues = (document: SourceDocument): readonly Issue[] =>
  membersAt(document.value, ['parts']).flatMap(({ path, value }) => {
    const file = shapeFileSchema.safeParse(value);
    const shape = file.success ? shapeOf(file.data) : undefined;
    if (shape === undefined || partThickness(shape) < THINNEST) return [];
    const grips = entriesAt(document.value, [...path, 'grips']).flatMap((grip) =>
      textAt(document.value, [...grip.path, 'face']),
    );
    return [
      ...grips.flatMap((face) => gripIssue(document, shape, face)),
      ...textAt(document.value, [...path, 'rest']).flatMap((rest) => restIssue(document, shape, rest)),
    ];
  });

function unknown(
  document: SourceDocument,
  { path, value }: Found<string>,
  what: string,
  names: readonly string[],
): Issue {
  const nearest = nearestWord(value, names);
  return issueAt(document, path, {
    code: 'unknown-face',
    problem: `the part has no ${what} ${showValue(value)}`,
    remedy: `${nearest === undefined ? '' : `maybe \`${nearest}\`: `}use one of ${showNames(names)}`,
  });
}

function gripIssue(document: SourceDocument, shape: Shape, found: Found<string>): readonly Issue[] {
  const { faces } = shapeSolid(shape);
  const flat = faces.filter(({ curved }) => curved === undefined).map(({ id }) => id);
  if (flat.includes(found.value)) return [];
  if (!faces.some(({ id }) => id === found.value)) return [unknown(document, found, 'face', flat)];
  return [
    issueAt(document, found.path, {
      code: 'curved-face',
      problem: `the face ${showValue(found.value)} is round, and pads need a flat one`,
      remedy: `use one of ${showNames(flat)}`,
    }),
  ];
}

function restIssue(document: SourceDocument, shape: Shape, found: Found<string>): readonly Issue[] {
  const planes = restPlanes(shape);
  if (planes.some(({ name }) => name === found.value)) return [];
  const names = planes.filter(({ rolls }) => !rolls).map(({ name }) => name);
  return [unknown(document, found, 'rest', names)];
}

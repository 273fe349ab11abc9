import type { Cell } from '../model/cell.js';
import type { Issue } from '../model/issue.js';
import { shapeSolid } from '../model/part-geometry.js';
import { shapeFileSchema, shapeOf } from '../model/shape.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import { pairsIn, partIds } from './part-mentions.js';
import { entriesAt, membersAt, textAt, textsAt, type Found } from './raw-view.js';
import { valueAt } from './schema-at.js';
import { showNames, showValue, type Path } from './show.js';

/** The words of which a wish has exactly one. */
const WORDS = ['before', 'first', 'grip', 'regrips', 'held', 'tack'] as const;

/** What wishes may name. */
export interface WishNames {
  /** The weldment file that the wishes are about; that of the wishes themselves, or of the settings beside it. */
  readonly weldment: SourceDocument;
  /** Undefined where no cell is known: then its names are not judged. */
  readonly cell: Cell | undefined;
  /** Whether the parts have no shapes. */
  readonly abstract: boolean;
}

/** Wishes of a weldment or settings file that name what is not there or ask for what there cannot be. */
export const wishIssues = (document: SourceDocument, names: WishNames): readonly Issue[] =>
  entriesAt(document.value, ['wishes']).flatMap(({ path, value }) => {
    const words = WORDS.filter((word) => valueAt(value, [word]) !== undefined);
    const [word] = words;
    if (word === undefined) return [];
    const strangers = unknownParts(document, path, word, names);
    if (strangers.length > 0) return strangers;
    const unfit = unfitWish(document, path, word, names);
    return unfit.length > 0 ? unfit : unknownNames(document, path, word, names);
  });

const partsAt = (document: SourceDocument, path: Path, word: string): readonly Found<string>[] => [
  ...textAt(document.value, [...path, word]),
  ...textsAt(document.value, [...path, word]),
];

function unknownParts(
  document: SourceDocument,
  path: Path,
  word: string,
  { weldment }: WishNames,
): readonly Issue[] {
  const ids = partIds(weldment);
  return partsAt(document, path, word)
    .filter(({ value }) => !ids.includes(value))
    .map((found) => unknown(document, found, 'unknown-part', 'no part is named', ids));
}

function unknown(
  document: SourceDocument,
  { path, value }: Found<string>,
  code: string,
  problem: string,
  known: readonly string[],
): Issue {
  const nearest = nearestWord(value, known);
  const among = known.length === 0 ? 'leave it out: there is none' : `write one of ${showNames(known)}`;
  const remedy = nearest === undefined ? among : `maybe \`${showNames([nearest])}\``;
  return issueAt(document, path, { code, problem: `${problem} ${showValue(value)}`, remedy });
}

/** Wishes that no plan of such a weldment can be asked for. */
function unfitWish(
  document: SourceDocument,
  path: Path,
  word: (typeof WORDS)[number],
  { weldment, abstract }: WishNames,
): readonly Issue[] {
  const given = (key: string): boolean => valueAt(document.value, [...path, key]) !== undefined;
  const tell = (at: Path, code: string, problem: string, remedy: string): readonly Issue[] => [
    issueAt(document, at, { code, problem, remedy }),
  ];
  const shaped = ['face', 'position', 'turn', 'group', 'robot'].filter(given);
  if (abstract && (word === 'held' || word === 'tack' || (word === 'grip' && shaped.length > 0))) {
    const key = word === 'grip' ? shaped[0]! : word;
    return tell(
      [...path, key],
      'wish-without-shapes',
      `\`${key}\` is wished of parts without shapes`,
      'wish for before, first, regrips, or grip with a gripper',
    );
  }
  const [part] = partsAt(document, path, word);
  const manual = part && valueAt(weldment.value, ['parts', part.value, 'manual']);
  if (['grip', 'regrips', 'held'].includes(word) && manual !== undefined && manual !== false)
    return tell(
      [...path, word],
      'wish-for-manual',
      `${showValue(part!.value)} is \`manual\`: no robot takes, brings or holds it`,
      'strike the wish, or strike `manual`',
    );
  if (word !== 'grip') return [];
  if (shaped.length === 0 && !given('gripper'))
    return tell(
      path,
      'empty-wish',
      'the wish says nothing of the grip',
      'add gripper, face, position, turn, group or robot',
    );
  if (given('position') && !given('face'))
    return tell(
      [...path, 'position'],
      'position-without-face',
      'a position is wished on no face',
      'add `face`: a position is counted from its centre',
    );
  return [];
}

/** Grippers, robots, faces and joints that are not there. */
function unknownNames(
  document: SourceDocument,
  path: Path,
  word: (typeof WORDS)[number],
  { weldment, cell, abstract }: WishNames,
): readonly Issue[] {
  if (word === 'tack') return unknownJoint(document, path, weldment);
  if (word !== 'grip') return [];
  const among = (key: string, code: string, problem: string, known: readonly string[]): readonly Issue[] =>
    textAt(document.value, [...path, key])
      .filter(({ value }) => !known.includes(value))
      .map((found) => unknown(document, found, code, problem, known));
  const part = textAt(document.value, [...path, word])[0]?.value;
  const grippers = abstract ? grippersOf(weldment) : cell?.grippers.map(({ id }) => id);
  const groups = cell && groupsOf(cell, textAt(document.value, [...path, 'gripper'])[0]?.value);
  const robots = cell?.handlers.map(({ id }) => id);
  const faces = part === undefined ? undefined : facesOf(weldment, part);
  return [
    ...(grippers ? among('gripper', 'unknown-gripper', 'no gripper is named', grippers) : []),
    ...(groups ? among('group', 'unknown-pad-group', 'no group of pads is named', groups) : []),
    ...(robots ? among('robot', 'unknown-robot', 'no handling robot is named', robots) : []),
    ...(faces ? among('face', 'unknown-face', 'the part has no flat face', faces) : []),
  ];
}

/** The groups of pads of a gripper, of all of them where none is named. */
const groupsOf = ({ grippers }: Cell, named: string | undefined): readonly string[] => [
  ...new Set(
    grippers.flatMap((gripper) =>
      gripper.kind === 'jaw' || (named !== undefined && gripper.id !== named)
        ? []
        : gripper.groups.map(({ id }) => id),
    ),
  ),
];

/** The grippers in the ways of parts without shapes. */
const grippersOf = ({ value }: SourceDocument): readonly string[] => [
  ...new Set(
    membersAt(value, ['parts']).flatMap(({ path }) =>
      entriesAt(value, [...path, 'ways']).flatMap((way) =>
        textAt(value, [...way.path, 'gripper']).map((gripper) => gripper.value),
      ),
    ),
  ),
];

/** The flat faces of a part; undefined where its shape is not sound, which others tell. */
function facesOf({ value }: SourceDocument, part: string): readonly string[] | undefined {
  const file = shapeFileSchema.safeParse(valueAt(value, ['parts', part]));
  const shape = file.success ? shapeOf(file.data) : undefined;
  return shape && shapeSolid(shape).faces.flatMap(({ curved, id }) => (curved === undefined ? [id] : []));
}

/** Where the file lists its joints; those that are proposed from contacts are judged once these are known. */
function unknownJoint(document: SourceDocument, path: Path, weldment: SourceDocument): readonly Issue[] {
  if (valueAt(weldment.value, ['joints']) === undefined) return [];
  const pair = textsAt(document.value, [...path, 'tack']).map(({ value }) => value);
  const joined = pairsIn(weldment, 'joints').some(({ value }) => pair.every((part) => value.includes(part)));
  if (pair.length !== 2 || joined) return [];
  return [noJoint(document, [...path, 'tack'], pair)];
}

/** A tack that is wished between two parts that are not joined. */
export const noJoint = (document: SourceDocument, path: Path, pair: readonly string[]): Issue =>
  issueAt(document, path, {
    code: 'unknown-joint',
    problem: `no joint is between ${pair.map(showValue).join(' and ')}`,
    remedy: 'name two parts that are joined, or add the joint',
  });

import { familyBaseSchema, familyFileSchema } from '../../model/family-file.js';
import type { Issue } from '../../model/issue.js';
import type { SourceDocument } from '../document.js';
import { readDocument } from '../document.js';
import { issueAt } from '../issue-at.js';
import { issuesOfZod } from '../issues-of-zod.js';
import { wrongKind } from '../kind-of-file.js';
import { membersAt } from '../raw-view.js';
import { isAbstract } from '../read-weldment.js';
import { valueAt } from '../schema-at.js';
import { showNames, type Path } from '../show.js';

/** The base weldment as it is written, expressions and all, and where that is: its own file, or a part of the family's. */
export interface FamilyBase {
  readonly document: SourceDocument;
  /** Of the weldment in the document. */
  readonly root: Path;
  readonly value: Readonly<Record<string, unknown>>;
  /** By the name of each part whether it is repeated. */
  readonly repeated: ReadonlyMap<string, boolean>;
}

export interface BaseReading {
  readonly base: FamilyBase | undefined;
  readonly issues: readonly Issue[];
}

/** The base of a family file; nothing where it has none that can be read, which is told here or by the file's schema. */
export function readBase(
  family: SourceDocument,
  textOf: (path: string) => string | undefined,
  nameOf: (path: string) => string,
): BaseReading {
  const path = valueAt(family.value, ['weldment']);
  if (path === undefined) return baseIn(family, ['base']);
  const sound = familyFileSchema.shape.weldment.safeParse(path);
  if (typeof path !== 'string' || !sound.success) return { base: undefined, issues: [] };
  const text = textOf(path);
  if (text === undefined) return { base: undefined, issues: [fileMissing(family, ['weldment'], path)] };
  const { document, issues } = readDocument(text, nameOf(path));
  if (document === undefined) return { base: undefined, issues };
  const wrong = wrongKind(document, 'weldment');
  if (wrong) return { base: undefined, issues: [wrong] };
  const { base, issues: inside } = baseIn(document, []);
  return { base, issues: [...issues, ...inside] };
}

/** A file that the family file names and nobody gave. */
export const fileMissing = (family: SourceDocument, path: Path, named: string): Issue =>
  issueAt(family, path, {
    code: 'file',
    problem: `the file ${showNames([named])} was not given`,
    remedy: 'put it beside the family file',
  });

function baseIn(document: SourceDocument, root: Path): BaseReading {
  const value = valueAt(document.value, root);
  // The schema of the family file tells of one that is written in it.
  const own = root.length === 0 ? familyBaseSchema.safeParse(value) : undefined;
  const issues = own?.success === false ? issuesOfZod(own.error.issues, familyBaseSchema, document) : [];
  const parts = membersAt(value, ['parts']);
  if (parts.length === 0 || typeof value !== 'object' || value === null) return { base: undefined, issues };
  if (isAbstract(value)) return { base: undefined, issues: [abstractBase(document, [...root, 'parts'])] };
  const repeated = new Map(
    parts.map((part) => [String(part.path[1]), valueAt(part.value, ['repeat']) !== undefined]),
  );
  return {
    base: { document, root, value: value as Readonly<Record<string, unknown>>, repeated },
    issues: [...issues, ...namesTaken(document, root, repeated)],
  };
}

const abstractBase = (document: SourceDocument, path: Path): Issue =>
  issueAt(document, path, {
    code: 'abstract-base',
    problem: 'no part of the base has a shape',
    remedy: 'give every part a shape and a place: families are of weldments with shapes',
  });

/** Parts that are called as a copy of a repeated part would be. */
const namesTaken = (
  document: SourceDocument,
  root: Path,
  repeated: ReadonlyMap<string, boolean>,
): readonly Issue[] =>
  [...repeated.keys()].flatMap((name) => {
    const part = /^(.+)-[1-9]\d{0,2}$/.exec(name)?.[1];
    if (part === undefined || repeated.get(part) !== true) return [];
    return [
      issueAt(document, [...root, 'parts', name], {
        code: 'name-taken',
        problem: `a copy of the repeated part ${showNames([part])} has this name`,
        remedy: 'give one of the two another name',
      }),
    ];
  });

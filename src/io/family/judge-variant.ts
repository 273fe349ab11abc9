import { placeSolid } from '../../geometry/solid.js';
import { shapeSolid } from '../../model/part-geometry.js';
import type { Issue } from '../../model/issue.js';
import type { Variant } from '../../model/family.js';
import type { ParameterValue } from '../../model/family-result.js';
import type { Weldment } from '../../model/weldment.js';
import { canonicalText } from '../canonical.js';
import type { SourceDocument } from '../document.js';
import { hasError, inFileOrder, issueAt } from '../issue-at.js';
import { partOverlaps } from '../part-overlaps.js';
import { judgeWeldment } from '../read-weldment.js';
import { wishIssues } from '../wish-checks.js';
import type { FamilyBase } from './base.js';
import type { BaseExpressions } from './base-expressions.js';
import { scopeOf, type Definitions } from './definitions.js';
import { expand, type Expanded } from './expand.js';
import { fileOfVariant } from './variant-rows.js';
import type { WorkingFault } from './working.js';

/** What a family is made of, read and found to be sound whatever the variant. */
export interface FamilyParts {
  readonly document: SourceDocument;
  readonly definitions: Definitions;
  readonly base: FamilyBase;
  readonly expressions: BaseExpressions;
  readonly units: string;
  /** What the weldment is called, before the name of the variant, where the base does not name it. */
  readonly name: string;
}

/** The variant with these values, and every issue of its weldment at the lines of the family's files. */
export function judgeVariant(
  parts: FamilyParts,
  name: string,
  values: ReadonlyMap<string, ParameterValue>,
): { readonly variant: Variant | undefined; readonly issues: readonly Issue[] } {
  const expanded = expand(parts.base, parts.expressions, scopeOf(parts.definitions, values));
  if (!expanded.ok)
    return {
      variant: undefined,
      issues: inFileOrder(expanded.error.map((fault) => faultIssue(parts, name, fault))),
    };
  const document = documentOf(parts, name, expanded.value);
  const judgement = judgeWeldment(document);
  const wishes = wishIssues(document, { weldment: document, cell: undefined, abstract: false });
  const issues = inFileOrder([...judgement.issues, ...wishes]);
  if (judgement.accepted === undefined || hasError(issues)) return { variant: undefined, issues };
  // A base with a shape gives no weldment without.
  const weldment = judgement.accepted.make() as Weldment;
  const wrong = [...overlapIssues(document, weldment), ...onePieceIssues(document, weldment)];
  if (wrong.length > 0) return { variant: undefined, issues: inFileOrder([...issues, ...wrong]) };
  const text = canonicalText(document.value);
  return { variant: { name, values: Object.fromEntries(values), text }, issues };
}

function faultIssue(
  { document, base }: FamilyParts,
  name: string,
  { path, inside, ...fault }: WorkingFault,
): Issue {
  const from = inside === undefined ? base.document : document;
  const at = inside === undefined ? [...base.root, ...path] : ['let', inside];
  return issueAt({ ...from, file: fileOfVariant(from.file, name) }, at, fault);
}

/** The weldment of a variant as a document whose lines are those of the base. */
function documentOf(parts: FamilyParts, name: string, { value, originOf }: Expanded): SourceDocument {
  const { document, root } = parts.base;
  return {
    file: fileOfVariant(document.file, name),
    value: {
      ...value,
      weldment: weldmentName(value['weldment'] ?? parts.name, name),
      units: value['units'] ?? parts.units,
    },
    lineOf: (path) => document.lineOf([...root, ...originOf(path)]),
  };
}

const LONGEST_NAME = 80;

/** What is no text stays as it is, for the schema to tell. */
function weldmentName(weldment: unknown, variant: string): unknown {
  if (typeof weldment !== 'string') return weldment;
  const both = `${weldment}-${variant}`;
  return both.length > LONGEST_NAME ? variant : both;
}

const overlapIssues = (document: SourceDocument, { parts }: Weldment): readonly Issue[] =>
  partOverlaps(parts.map(({ id, shape, pose }) => ({ id, solid: placeSolid(shapeSolid(shape), pose) }))).map(
    ({ path, ...complaint }) => issueAt(document, path, complaint),
  );

/** A build pattern says how the parts of the file are brought, and nothing of parts that are tacked apart first. */
const onePieceIssues = (document: SourceDocument, { subAssemblies = 'off' }: Weldment): readonly Issue[] =>
  subAssemblies === 'off'
    ? []
    : [
        issueAt(document, ['sub-assemblies'], {
          code: 'in-one-piece-only',
          problem: 'a family is planned in one piece only, and this file asks for sub-assemblies',
          remedy: 'write `sub-assemblies: off`, or plan its variants by themselves with `plan`',
        }),
      ];

import { fail, ok, type Result } from '../../base/result.js';
import { LONGEST_EXPRESSION } from '../../model/family-file.js';
import type { Issue } from '../../model/issue.js';
import { issueAt } from '../issue-at.js';
import { valueAt } from '../schema-at.js';
import { showValue, type Path } from '../show.js';
import type { FamilyBase } from './base.js';
import { expressionText, unknownNames } from './definitions.js';
import type { Expression, ExpressionFault } from './expression.js';
import { parseExpression } from './parse-expression.js';
import { meaningOf, namedOnce } from './part-names.js';

/** A text with pieces in it that are worked out, as `height of rib {i + 1}`. */
export interface Template {
  readonly texts: readonly string[];
  /** One fewer than the texts between which they stand. */
  readonly pieces: readonly Expression[];
}

/** What a text of the base is: itself, an expression, or a text with expressions in it. */
export type BaseText =
  | { readonly kind: 'plain' }
  | { readonly kind: 'expression'; readonly expression: Expression }
  | { readonly kind: 'template'; readonly template: Template };

/** The keys whose texts are expressions with or without `=`. */
const CONDITIONS: ReadonlySet<string> = new Set(['when', 'repeat']);

/** The expressions of a base, each text of it parsed once for all variants. */
export class BaseExpressions {
  private readonly texts = new Map<string, Result<BaseText, ExpressionFault>>();

  /** What a text is; `condition`: an expression even without `=`. */
  read(text: string, condition = false): Result<BaseText, ExpressionFault> {
    const key = condition ? `=${expressionText(text)}` : text;
    let known = this.texts.get(key);
    if (known === undefined) {
      known = understood(key);
      this.texts.set(key, known);
    }
    return known;
  }

  /** What is wrong with the expressions of a base whatever the variant: they cannot be read, or name what is not there. */
  issues(base: FamilyBase, known: readonly string[]): readonly Issue[] {
    const issues: Issue[] = [];
    const visit = (value: unknown, path: Path, names: readonly string[]): void => {
      if (typeof value === 'string') issues.push(...this.issuesOf(base, value, path, names));
      if (typeof value !== 'object' || value === null) return;
      const cut = Object.keys(value).find((key) => key.startsWith('='));
      if (cut !== undefined)
        return void issues.push(issueAt(base.document, [...base.root, ...path], cutAtColon(cut)));
      const inside = names.includes('i') || !hasCopies(base, path, value) ? names : [...names, 'i'];
      for (const [key, member] of Object.entries(value)) {
        const at = Array.isArray(value) ? Number(key) : key;
        // The number of copies is not one copy's.
        visit(member, [...path, at], key === 'repeat' ? names : inside);
      }
    };
    visit(base.value, [], known);
    return issues;
  }

  private issuesOf(base: FamilyBase, text: string, path: Path, known: readonly string[]): readonly Issue[] {
    const at = [...base.root, ...path];
    const read = this.read(text, CONDITIONS.has(String(path.at(-1))));
    if (!read.ok) return [issueAt(base.document, at, read.error)];
    return expressionsIn(read.value).flatMap((one) => unknownNames(base.document, at, one, known));
  }
}

/** YAML takes a colon in an unquoted text for that of a key. */
const cutAtColon = (key: string): ExpressionFault => ({
  code: 'expression-syntax',
  problem: `the expression ${showValue(key)} is cut at its colon`,
  remedy: 'put the whole expression in quotes',
});

const tooLong = (text: string): ExpressionFault => ({
  code: 'expression-syntax',
  problem: `a text with expressions in braces has ${text.length} characters`,
  remedy: `at most ${LONGEST_EXPRESSION} are read`,
});

function understood(text: string): Result<BaseText, ExpressionFault> {
  if (text.startsWith('=')) {
    const parsed = parseExpression(text.slice(1));
    return parsed.ok ? ok({ kind: 'expression', expression: parsed.value }) : parsed;
  }
  const pieces: Expression[] = [];
  const split = text.split(/\{([^{}]*)\}/);
  if (split.length === 1) return ok({ kind: 'plain' });
  if (text.length > LONGEST_EXPRESSION) return fail(tooLong(text));
  for (const piece of split.filter((_, i) => i % 2 === 1)) {
    const parsed = parseExpression(piece);
    if (!parsed.ok) return fail(parsed.error);
    pieces.push(parsed.value);
  }
  return ok({ kind: 'template', template: { texts: split.filter((_, i) => i % 2 === 0), pieces } });
}

function expressionsIn(text: BaseText): readonly Expression[] {
  if (text.kind === 'plain') return [];
  return text.kind === 'expression' ? [text.expression] : text.template.pieces;
}

/** Whether a map or list stands for several: it says so, or it is an entry that names a repeated part. */
function hasCopies(base: FamilyBase, path: Path, value: object): boolean {
  if (valueAt(value, ['repeat']) !== undefined) return true;
  const [list, at] = path;
  if (path.length !== 2 || typeof at !== 'number') return false;
  return namedOnce(String(list), value).some((name) => meaningOf(name, base.repeated).kind === 'repeated');
}

import { fail, ok } from '../../base/result.js';
import { MOST_NAMES } from '../../model/family-file.js';
import type { ParameterValue } from '../../model/family-result.js';
import type { Issue } from '../../model/issue.js';
import type { SourceDocument } from '../document.js';
import { issueAt } from '../issue-at.js';
import { nearestWord } from '../nearest-word.js';
import { membersAt } from '../raw-view.js';
import { printable, showNames, type Path } from '../show.js';
import { evaluate } from './evaluate.js';
import type { Expression, ExpressionFault, Outcome, Scope } from './expression.js';
import { namesIn } from './expression.js';
import { parseExpression } from './parse-expression.js';

/** The names that a family defines: its parameters, and the numbers derived from them. */
export interface Definitions {
  readonly parameters: readonly string[];
  readonly derived: ReadonlyMap<string, Expression>;
}

/** What a name stands for without being defined. */
const CONSTANTS: ReadonlyMap<string, number> = new Map([['pi', Math.PI]]);

/** The expression behind a text of `let`, `when` or `repeat`, where `=` may be left out. */
export const expressionText = (text: string): string => (text.startsWith('=') ? text.slice(1) : text);

/** Reads the names of a family file, whether or not it meets its schema. */
export function readDefinitions(document: SourceDocument): {
  readonly definitions: Definitions;
  readonly issues: readonly Issue[];
} {
  const keys = (key: string): readonly string[] =>
    membersAt(document.value, [key]).map(({ path }) => String(path[1]));
  const parameters = keys('parameters');
  const derived = new Map<string, Expression>();
  const issues: Issue[] = [];
  for (const { path, value } of membersAt(document.value, ['let'])) {
    const name = String(path[1]);
    if (parameters.includes(name)) issues.push(issueAt(document, path, taken(name)));
    const parsed = expressionOf(value);
    if (parsed === undefined) continue;
    if (parsed.ok) derived.set(name, parsed.value);
    else issues.push(issueAt(document, path, parsed.error));
  }
  const definitions = { parameters, derived };
  const known = [...parameters, ...keys('let')];
  for (const [name, expression] of derived)
    issues.push(...unknownNames(document, ['let', name], expression, known));
  // Of too many the schema tells; a chain of all of them would be too deep to follow.
  const followed = derived.size > MOST_NAMES ? [] : loops(document, derived);
  return { definitions, issues: [...issues, ...followed] };
}

const taken = (name: string): ExpressionFault => ({
  code: 'name-taken',
  problem: `\`${name}\` is a parameter already`,
  remedy: 'give one of the two another name',
});

function expressionOf(value: unknown): ReturnType<typeof parseExpression> | undefined {
  if (typeof value === 'string') return parseExpression(expressionText(value));
  return typeof value === 'number' || typeof value === 'boolean'
    ? ok({ kind: 'constant', value })
    : undefined;
}

/** One issue for each name of an expression that stands for nothing. */
export function unknownNames(
  document: SourceDocument,
  path: Path,
  expression: Expression,
  known: readonly string[],
): readonly Issue[] {
  return namesIn(expression)
    .filter((name) => !known.includes(name) && !CONSTANTS.has(name))
    .map((name) => {
      const nearest = nearestWord(name, known);
      const names = known.length === 0 ? 'there are no parameters' : `known are ${showNames(known)}`;
      return issueAt(document, path, {
        code: 'unknown-name',
        problem: `nothing is named \`${printable(name)}\``,
        remedy: nearest === undefined ? names : `maybe \`${nearest}\``,
      });
    });
}

/** Derived numbers that need themselves, each loop once. */
function loops(document: SourceDocument, derived: ReadonlyMap<string, Expression>): readonly Issue[] {
  const done = new Set<string>();
  const issues: Issue[] = [];
  const visit = (name: string, trail: readonly string[]): void => {
    const at = trail.indexOf(name);
    if (at >= 0) issues.push(issueAt(document, ['let', name], loop([...trail.slice(at), name])));
    if (at >= 0 || done.has(name)) return;
    for (const next of namesIn(derived.get(name)!)) if (derived.has(next)) visit(next, [...trail, name]);
    done.add(name);
  };
  for (const name of derived.keys()) visit(name, []);
  return issues;
}

const loop = (trail: readonly string[]): ExpressionFault => ({
  code: 'let-loop',
  problem: `it needs itself: ${showNames(trail).replaceAll(', ', ' needs ')}`,
  remedy: 'give one of them without the others',
});

/**
 * What names stand for in one variant. A derived number is worked out when it is first asked for, so that one which the
 * variant does not use may have no value there. The definitions have no loop.
 */
export function scopeOf({ derived }: Definitions, values: ReadonlyMap<string, ParameterValue>): Scope {
  const known = new Map<string, Outcome>([...CONSTANTS, ...values].map(([name, value]) => [name, ok(value)]));
  const scope: Scope = (name) => {
    const before = known.get(name);
    const expression = derived.get(name);
    if (before !== undefined || expression === undefined) return before;
    const outcome = evaluate(expression, scope);
    const told = outcome.ok ? outcome : fail({ inside: name, ...outcome.error });
    known.set(name, told);
    return told;
  };
  return scope;
}

/** The scope with `i`, the number of a copy from 0. */
export const withCopy =
  (scope: Scope, i: number): Scope =>
  (name) =>
    name === 'i' ? ok(i) : scope(name);

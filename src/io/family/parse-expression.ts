import type { ConditionalNode, ConstantNode, FunctionNode, MathNode, OperatorNode } from 'mathjs/number';
import type { ParenthesisNode, RelationalNode, SymbolNode } from 'mathjs/number';
import { parse } from 'mathjs/number';
import { fail, ok, type Result } from '../../base/result.js';
import { LONGEST_EXPRESSION } from '../../model/family-file.js';
import { nearestWord } from '../nearest-word.js';
import { printable, showNames, showValue } from '../show.js';
import { COMPARISONS, FUNCTIONS, OPERATORS } from './arithmetic.js';
import type { Expression, ExpressionFault } from './expression.js';

/** Deepest nesting, of brackets and of everything else, that is read: a deeper one would exhaust the stack. */
const DEEPEST = 24;

type Parsed = Result<Expression, ExpressionFault>;

const syntax = (problem: string, remedy: string): ExpressionFault => ({
  code: 'expression-syntax',
  problem,
  remedy,
});

const notAllowed = (what: string): ExpressionFault => ({
  code: 'expression-not-allowed',
  problem: `${what} cannot be in an expression`,
  remedy: `use numbers, parameters, + - * / ^ %, comparisons, and, or, not, a ? b : c and ${showNames(Object.keys(FUNCTIONS))}`,
});

/**
 * Parses the text of an expression, without the `=` before it. The library only parses: nothing that it could evaluate
 * is ever evaluated by it, and of its tree only the kinds of nodes that are listed here get through.
 */
export function parseExpression(text: string): Parsed {
  if (text.length > LONGEST_EXPRESSION)
    return fail(
      syntax(
        `the expression has ${text.length} characters`,
        `at most ${LONGEST_EXPRESSION} are read; put pieces of it into \`let\``,
      ),
    );
  if (bracketDepth(text) > DEEPEST) return fail(TOO_DEEP);
  if (text.trim() === '')
    return fail(syntax('the expression is empty', 'write an expression, or leave `=` out'));
  try {
    return translated(parse(text), 0);
  } catch (error) {
    return fail(error instanceof RangeError ? TOO_DEEP : unreadable(text, error as Error));
  }
}

const TOO_DEEP = syntax(`the expression is nested more than ${DEEPEST} deep`, 'put pieces of it into `let`');

/** Brackets open at once, whether or not they are of the right kind. */
function bracketDepth(text: string): number {
  let open = 0;
  let deepest = 0;
  for (const mark of text) {
    if ('([{'.includes(mark)) deepest = Math.max(deepest, (open += 1));
    if (')]}'.includes(mark)) open -= 1;
  }
  return deepest;
}

function unreadable(text: string, error: Error): ExpressionFault {
  const at = (error as { char?: number }).char;
  const where = at === undefined || at > text.length ? 'its end' : `character ${at}`;
  return syntax(
    `${showValue(text)} cannot be read at ${where}`,
    'close every bracket and complete every operator; in lists an expression with a comma is put in quotes',
  );
}

function translated(node: MathNode, depth: number): Parsed {
  if (depth > DEEPEST) return fail(TOO_DEEP);
  switch (node.type) {
    case 'ConstantNode':
      return constant(node as ConstantNode);
    case 'SymbolNode':
      return ok({ kind: 'name', name: (node as SymbolNode).name });
    case 'ParenthesisNode':
      return translated((node as ParenthesisNode).content, depth + 1);
    case 'OperatorNode':
      return operator(node as OperatorNode, depth);
    case 'FunctionNode':
      return called(node as FunctionNode<MathNode>, depth);
    case 'RelationalNode':
      return comparison((node as RelationalNode).conditionals, (node as RelationalNode).params, depth);
    case 'ConditionalNode':
      return choice(node as ConditionalNode, depth);
    default:
      return fail(notAllowed(WORDS_OF_NODES[node.type] ?? 'this'));
  }
}

const WORDS_OF_NODES: Readonly<Record<string, string>> = {
  AccessorNode: 'a property (a dot or square brackets)',
  ArrayNode: 'a list',
  AssignmentNode: 'an assignment (`=`; equality is `==`)',
  BlockNode: 'more than one expression',
  FunctionAssignmentNode: 'a function of its own',
  IndexNode: 'square brackets',
  ObjectNode: 'a map',
  RangeNode: 'a colon',
};

function constant({ value }: { readonly value: unknown }): Parsed {
  if (typeof value === 'number' && Number.isFinite(value)) return ok({ kind: 'constant', value });
  if (typeof value === 'boolean' || typeof value === 'string') return ok({ kind: 'constant', value });
  return fail(notAllowed(value === undefined ? 'nothing' : `\`${String(value)}\``));
}

function operator({ fn, op, args, implicit }: OperatorNode, depth: number): Parsed {
  if (implicit)
    return fail(
      syntax('two values stand side by side without an operator', 'write `*` between them, or quote a text'),
    );
  if (Object.hasOwn(COMPARISONS, fn)) return comparison([fn], args, depth);
  if (!Object.hasOwn(OPERATORS, fn)) return fail(notAllowed(`\`${String(op)}\``));
  return joined(args, depth, (of) => ({ kind: 'call', call: fn, of }));
}

function called({ fn, args }: FunctionNode<MathNode>, depth: number): Parsed {
  const name = fn.type === 'SymbolNode' ? (fn as SymbolNode).name : undefined;
  if (name === undefined) return fail(notAllowed('a function that has no name'));
  if (!Object.hasOwn(FUNCTIONS, name)) return fail(unknownFunction(name));
  const { least, most } = FUNCTIONS[name]!;
  if (args.length < least || args.length > most) {
    const count = least === most ? `${least}` : `${least} or more`;
    return fail(
      syntax(`${name} is given ${args.length} values`, `give it ${count}, with a comma between values`),
    );
  }
  return joined(args, depth, (of) => ({ kind: 'call', call: name, of }));
}

function unknownFunction(name: string): ExpressionFault {
  const nearest = nearestWord(name, Object.keys(FUNCTIONS));
  const known = `functions are ${showNames(Object.keys(FUNCTIONS))}`;
  return {
    code: 'expression-not-allowed',
    problem: `there is no function \`${printable(name)}\``,
    remedy: nearest === undefined ? `${known}; to multiply write \`*\`` : `maybe \`${nearest}\``,
  };
}

const comparison = (words: readonly string[], params: readonly MathNode[], depth: number): Parsed =>
  joined(params, depth, (of) => ({ kind: 'comparison', words, of }));

const choice = ({ condition, trueExpr, falseExpr }: ConditionalNode, depth: number): Parsed =>
  joined([condition, trueExpr, falseExpr], depth, ([first, yes, no]) => ({
    kind: 'choice',
    condition: first!,
    yes: yes!,
    no: no!,
  }));

/** All of them, or the first fault among them. */
function joined(
  nodes: readonly MathNode[],
  depth: number,
  make: (of: readonly Expression[]) => Expression,
): Parsed {
  const of: Expression[] = [];
  for (const node of nodes) {
    const one = translated(node, depth + 1);
    if (!one.ok) return one;
    of.push(one.value);
  }
  return ok(make(of));
}

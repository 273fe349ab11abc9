import { fail, ok, type Result } from '../../base/result.js';
import type { ParameterValue } from '../../model/family-result.js';
import { showValue } from '../show.js';
import { COMPARISONS, FUNCTIONS, OPERATORS } from './arithmetic.js';
import type { Expression, ExpressionFault, Outcome, Scope } from './expression.js';

type Call = Extract<Expression, { readonly kind: 'call' }>;
type Comparison = Extract<Expression, { readonly kind: 'comparison' }>;

/**
 * The value of an expression where its names stand for what `scope` says: a finite number, yes or no, or a text. Of
 * `a ? b : c`, `and` and `or` only what decides is evaluated, so that a condition can guard a division.
 */
export function evaluate(expression: Expression, scope: Scope): Outcome {
  switch (expression.kind) {
    case 'constant':
      return ok(expression.value);
    case 'name':
      return scope(expression.name) ?? fail(kindFault(`\`${expression.name}\` stands for nothing`));
    case 'choice': {
      const condition = truth(expression.condition, scope, '?');
      if (!condition.ok) return condition;
      return evaluate(condition.value ? expression.yes : expression.no, scope);
    }
    case 'comparison':
      return compared(expression, scope);
    case 'call':
      return LOGIC.has(expression.call) ? logic(expression, scope) : calculated(expression, scope);
  }
}

const LOGIC: ReadonlySet<string> = new Set(['and', 'or', 'not']);

const kindFault = (problem: string, remedy = 'write it otherwise'): ExpressionFault => ({
  code: 'expression-kind',
  problem,
  remedy,
});

/** Yes or no for `sign`. */
function truth(expression: Expression, scope: Scope, sign: string): Result<boolean, ExpressionFault> {
  const outcome = evaluate(expression, scope);
  if (!outcome.ok) return outcome;
  if (typeof outcome.value === 'boolean') return ok(outcome.value);
  return fail(
    kindFault(
      `\`${sign}\` needs true or false, got ${showValue(outcome.value)}`,
      'write a comparison, as `height > 200`',
    ),
  );
}

function logic({ call, of }: Call, scope: Scope): Outcome {
  const first = truth(of[0]!, scope, call);
  if (!first.ok) return first;
  if (call === 'not') return ok(!first.value);
  return first.value === (call === 'or') ? first : truth(of[1]!, scope, call);
}

function calculated({ call, of }: Call, scope: Scope): Outcome {
  const known = Object.hasOwn(OPERATORS, call) ? OPERATORS[call]! : { sign: call, ...FUNCTIONS[call] };
  const numbers: number[] = [];
  for (const one of of) {
    const outcome = evaluate(one, scope);
    if (!outcome.ok) return outcome;
    if (typeof outcome.value !== 'number')
      return fail(
        kindFault(
          `\`${known.sign}\` needs numbers, got ${showValue(outcome.value)}`,
          'give a number, or choose one with `a ? b : c`',
        ),
      );
    numbers.push(outcome.value);
  }
  if ((call === 'divide' || call === 'mod') && numbers[1] === 0) return fail(divisionByZero(numbers[0]!));
  const value = known.value!(...(numbers as [number, number]));
  return Number.isFinite(value) ? ok(value) : fail(notFinite(call, known.sign, numbers));
}

const divisionByZero = (divided: number): ExpressionFault => ({
  code: 'division-by-zero',
  problem: `${divided} is divided by 0`,
  remedy: 'guard it, as `n == 1 ? 0 : a / (n - 1)`, or change the values',
});

function notFinite(call: string, sign: string, numbers: readonly number[]): ExpressionFault {
  const shown = Object.hasOwn(FUNCTIONS, call)
    ? `${sign}(${numbers.join(', ')})`
    : numbers.length === 1
      ? `${sign}${numbers[0]}`
      : numbers.join(` ${sign} `);
  return {
    code: 'not-finite',
    problem: `${shown} is no finite number`,
    remedy: 'change the expression or the values, or guard it with `a ? b : c`',
  };
}

function compared({ words, of }: Comparison, scope: Scope): Outcome {
  let left = evaluate(of[0]!, scope);
  for (const [i, word] of words.entries()) {
    if (!left.ok) return left;
    const right = evaluate(of[i + 1]!, scope);
    if (!right.ok) return right;
    const holds = comparison(word, left.value, right.value);
    if (!holds.ok || !holds.value) return holds;
    left = right;
  }
  return ok(true);
}

function comparison(
  word: string,
  left: ParameterValue,
  right: ParameterValue,
): Result<boolean, ExpressionFault> {
  const { sign, any, holds } = COMPARISONS[word]!;
  if (typeof left === 'number' && typeof right === 'number') return ok(holds(left, right));
  if (any && typeof left === typeof right) return ok((left === right) === (word === 'equal'));
  return fail(
    kindFault(
      `\`${sign}\` cannot compare ${showValue(left)} with ${showValue(right)}`,
      any ? 'compare two values of one kind' : 'compare two numbers',
    ),
  );
}

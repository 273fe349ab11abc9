import type { ParameterValue } from '../../model/family-result.js';
import type { Result } from '../../base/result.js';

/** An expression after it was parsed and found to hold nothing but what is allowed. Plain data. */
export type Expression =
  | { readonly kind: 'constant'; readonly value: ParameterValue }
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'call'; readonly call: string; readonly of: readonly Expression[] }
  /** Comparisons in a row, as `100 < height <= 200`: one word fewer than values. */
  | { readonly kind: 'comparison'; readonly words: readonly string[]; readonly of: readonly Expression[] }
  | {
      readonly kind: 'choice';
      readonly condition: Expression;
      readonly yes: Expression;
      readonly no: Expression;
    };

/** What is wrong with an expression or its value. */
export interface ExpressionFault {
  readonly code: string;
  readonly problem: string;
  readonly remedy: string;
  /** The derived number (`let`) in which it is; absent: in the expression itself. */
  readonly inside?: string | undefined;
}

export type Outcome = Result<ParameterValue, ExpressionFault>;

/** What names stand for; undefined for a name that stands for nothing. */
export type Scope = (name: string) => Outcome | undefined;

/** Every name in an expression, each once, in the order in which it is written. */
export function namesIn(expression: Expression): readonly string[] {
  const inside = (one: Expression): readonly string[] => {
    switch (one.kind) {
      case 'constant':
        return [];
      case 'name':
        return [one.name];
      case 'choice':
        return [one.condition, one.yes, one.no].flatMap(inside);
      default:
        return one.of.flatMap(inside);
    }
  };
  return [...new Set(inside(expression))];
}

import { MOST_COPIES } from '../../model/family-file.js';
import type { ParameterValue } from '../../model/family-result.js';
import { showValue, type Path } from '../show.js';
import { nearlyEqual, tidy } from './arithmetic.js';
import type { BaseExpressions } from './base-expressions.js';
import { withCopy } from './definitions.js';
import { evaluate } from './evaluate.js';
import type { Expression, ExpressionFault, Scope } from './expression.js';

/** Something wrong at a place of the base, for one variant. */
export interface WorkingFault extends ExpressionFault {
  readonly path: Path;
}

/** One of the times that a part or entry is there: its number from 0, and what names stand for in it. */
export interface Copy {
  readonly i: number;
  readonly scope: Scope;
}

export type Plain = Readonly<Record<string, unknown>>;

export const isMap = (value: unknown): value is Plain =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** How many values a weldment may have: far more than anybody builds; copies of copies would soon be more. */
const MOST_VALUES = 100_000;

/** Works out the expressions of a base for one variant, and keeps what is wrong with them there. */
export class Working {
  readonly faults: WorkingFault[] = [];
  private values = 0;

  constructor(private readonly expressions: BaseExpressions) {}

  /** Counts one value more; false once there are too many, which is told once. */
  goesOn(): boolean {
    if (this.values > MOST_VALUES) return false;
    this.values += 1;
    if (this.values > MOST_VALUES)
      this.fault([], {
        code: 'weldment-too-large',
        problem: `the weldment has more than ${MOST_VALUES} values`,
        remedy: 'repeat less',
      });
    return this.values <= MOST_VALUES;
  }

  /** What a text of the base comes to; undefined with a fault kept. Numbers are tidy. */
  text(text: string, path: Path, scope: Scope, condition = false): ParameterValue | undefined {
    const read = this.expressions.read(text, condition);
    // Faults of reading are told for all variants at once.
    if (!read.ok) return undefined;
    if (read.value.kind === 'plain') return text;
    if (read.value.kind === 'expression') return this.value(read.value.expression, path, scope);
    const { texts, pieces } = read.value.template;
    const shown = pieces.map((piece) => this.value(piece, path, scope));
    return texts.map((between, i) => `${between}${shown[i] ?? ''}`).join('');
  }

  /** How often something is there: once, or so many times by `repeat`; of these where `when` is true. */
  copies(value: unknown, path: Path, scope: Scope): readonly Copy[] {
    if (!isMap(value)) return [{ i: 0, scope }];
    const { repeat, when } = value;
    const copies =
      repeat === undefined
        ? [{ i: 0, scope }]
        : Array.from({ length: this.count(repeat, [...path, 'repeat'], scope) }, (_, i) => ({
            i,
            scope: withCopy(scope, i),
          }));
    if (when === undefined) return copies;
    return copies.filter((copy) => this.holds(when, [...path, 'when'], copy.scope));
  }

  private value(expression: Expression, path: Path, scope: Scope): ParameterValue | undefined {
    const outcome = evaluate(expression, scope);
    if (!outcome.ok) return this.fault(path, outcome.error);
    return typeof outcome.value === 'number' ? tidy(outcome.value) : outcome.value;
  }

  private count(written: unknown, path: Path, scope: Scope): number {
    const value = typeof written === 'string' ? this.text(written, path, scope, true) : written;
    if (value === undefined) return 0;
    const whole = typeof value === 'number' ? Math.round(value) : NaN;
    if (whole >= 0 && whole <= MOST_COPIES && nearlyEqual(whole, value as number)) return whole;
    this.fault(path, {
      code: 'copies',
      problem: `${showValue(value)} copies are asked for`,
      remedy: `give a whole number from 0 to ${MOST_COPIES}; round() makes one`,
    });
    return 0;
  }

  private holds(written: unknown, path: Path, scope: Scope): boolean {
    const value = typeof written === 'string' ? this.text(written, path, scope, true) : written;
    if (value === undefined || typeof value === 'boolean') return value === true;
    this.fault(path, {
      code: 'condition-kind',
      problem: `the condition is neither true nor false but ${showValue(value)}`,
      remedy: 'write a comparison, as `ribs > 0`',
    });
    return false;
  }

  private fault(path: Path, fault: ExpressionFault): undefined {
    this.faults.push({ ...fault, path });
    return undefined;
  }
}

import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Cell } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { GeometricPlan } from '../model/plan.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Weldment } from '../model/weldment.js';

/** What a rule is given: the inputs, the plan, and the scene that follows from them. */
export interface RuleContext {
  readonly weldment: Weldment;
  readonly cell: Cell;
  readonly plan: GeometricPlan;
  /** Those that the plan was made with: `plan.settings`. */
  readonly settings: Settings;
  readonly scene: Scene;
  readonly programs: LinearPrograms;
}

/** What a rule says of itself. */
export interface RuleWords {
  readonly id: string;
  readonly forbids: string;
  readonly why: string;
}

/**
 * One thing that a legal plan never does. A rule judges its own subject and trusts the other rules for theirs: where
 * a name is unknown or a number belongs to another rule, it stays silent. It never throws on a plan of the schema.
 */
export interface Rule extends RuleWords {
  judge(context: RuleContext): Finding[];
}

/** A finding of a rule; `numbers` are the value found and the limit it broke, in the unit of the message. */
export const breach = (
  rule: string,
  where: string,
  message: string,
  numbers: { readonly value?: number; readonly limit?: number } = {},
): Finding => ({ rule, where, message, ...numbers });

/** A number as messages show it: at most three decimals. */
export const shown = (value: number): string => `${Math.round(value * 1000) / 1000}`;

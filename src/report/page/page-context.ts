import type { Cell } from '../../model/cell.js';
import type { Finding } from '../../model/finding.js';
import type { AbstractPlan, GeometricPlan } from '../../model/plan.js';
import type { Scene } from '../../model/scene.js';
import type { AbstractWeldment } from '../../model/weldment.js';
import type { TradedPlans } from '../trade-text.js';
import type { Answer } from '../../explain/why/answer.js';

/** What any section of a page may ask. */
export interface PageHead {
  /** What the rules found; undefined where they were not asked for this report. */
  readonly findings: readonly Finding[] | undefined;
  /** Answers to questions about the plan, where some were given. */
  readonly why: readonly Answer[];
  /** Plans between two terms, where some were given. */
  readonly trade?: TradedPlans | undefined;
}

export interface GeometricContext extends PageHead {
  readonly plan: GeometricPlan;
  readonly cell: Cell;
  readonly scene: Scene;
}

export interface AbstractContext extends PageHead {
  readonly plan: AbstractPlan;
  readonly weldment: AbstractWeldment;
}

export type PageContext = GeometricContext | AbstractContext;

export const isGeometric = (context: PageContext): context is GeometricContext =>
  context.plan.kind === 'geometric';

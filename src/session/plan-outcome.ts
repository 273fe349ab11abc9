import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { SearchProgress } from '../algorithms/problem.js';
import type { BudgetLimits } from '../base/budget.js';
import type { Facts } from '../facts/facts.js';
import type { DeepestParts } from '../model/deepest-parts.js';
import type { Finding } from '../model/finding.js';
import type { Issue } from '../model/issue.js';
import type { PlanWhole } from '../model/plan-whole.js';
import type { Plan } from '../model/plan.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { RemedySearch, TriedRemedy } from '../model/tried-remedy.js';
import type { Refusal } from '../model/verdict.js';
import type { ReasonSet } from '../planning/impossible.js';
import type { StartWay } from '../planning/start-way.js';
import type { TradedTerms } from '../planning/traded-terms.js';
import type { Source } from './inputs.js';
import type { WarmStartTold } from './warm-start.js';

/** What planning came to. `defect`: our own plan breaks a rule, which must never happen and is never written. */
export type PlanOutcome =
  | {
      readonly kind: 'planned';
      readonly plan: Plan;
      /** Pairs of parts that meet; undefined where the weldment has none to say. */
      readonly contacts: number | undefined;
      readonly warnings: readonly Issue[];
      /** What was asked for by `trade`. */
      readonly trade?: Trade | undefined;
      /** What became of the plan that was started from. */
      readonly start?: WarmStartTold | undefined;
    }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] }
  | {
      readonly kind: 'impossible';
      /** A minimal set of facts that together rule every plan out. */
      readonly reasons: readonly Refusal[];
      readonly scope: 'any' | 'candidates';
      /** How many of the reasons are proved to be needed. */
      readonly needed: number;
      /** Further sets, independent of the first and of one another. */
      readonly also: readonly ReasonSet[];
      /** Whether there may be further sets. */
      readonly mayBeMore: boolean;
      readonly warnings: readonly Issue[];
      /** Changes with each of which a plan was found, cheapest first; absent when none were tried. */
      readonly remedies?: readonly TriedRemedy[];
      /** What was tried for them. */
      readonly remedySearch?: Omit<RemedySearch, 'remedies'>;
      /** The sub-assembly that has no plan; absent: the weldment, in one piece or with sub-assemblies as parts. */
      readonly of?: string;
      /** The search for sub-assemblies with which there would be one; absent where nobody asked. */
      readonly splits?: PlanWhole['search'];
    }
  | {
      /** No plan found and nothing proved: the budget ended, or `refused` whole orders fell in the last judgement. */
      readonly kind: 'none-found';
      readonly states: number;
      readonly refused: number;
      /** Why whole orders fell, each with its nearest miss. */
      readonly reasons: readonly Refusal[];
      /** Whether every order was looked at, so that all there are fell. */
      readonly exhausted: boolean;
      /** States that were still waiting; undefined where they are not counted. */
      readonly waiting?: number | undefined;
      /** What no order costs less than, as far as is proved, by terms of the objective. */
      readonly bound: readonly { readonly term: ObjectiveTerm; readonly value: number }[];
      /** How far the search got; undefined for a weldment without shapes. */
      readonly deepest?: DeepestParts | undefined;
      readonly warnings: readonly Issue[];
      readonly of?: string;
      readonly splits?: PlanWhole['search'];
    }
  | { readonly kind: 'defect'; readonly findings: readonly Finding[] };

/** Plans between two terms of the objective. */
export interface Trade {
  readonly terms: TradedTerms;
  /** How many complete orders were compared. */
  readonly completed: number;
  /** Of these no other one is as good in both terms and better in one, least of the first term first; all have passed the rules. */
  readonly plans: readonly Plan[];
}

export interface PlanSessionOptions {
  readonly programs: LinearPrograms;
  /** Overrides of the settings file. */
  readonly seed?: number | undefined;
  readonly steps?: number | undefined;
  readonly seconds?: number | undefined;
  /** Asks for the plans between two terms too; two more searches. */
  readonly trade?: TradedTerms | undefined;
  /** Whether the plan shall have an order for the full welds; a weldment without shapes has none. */
  readonly weld?: boolean | undefined;
  /** A plan document to start from: the outcome is never worse than it, where it is still legal. */
  readonly from?: Source | undefined;
  /**
   * A plan of these inputs to take up as far as it is legal, so that the outcome is like it where that costs nothing.
   * Unlike `from` it is not compared with the outcome.
   */
  readonly near?: Plan | undefined;
  /** Ways to build that may be good: each is taken up as far as it is legal, and only what is better is looked for then. */
  readonly begin?: readonly StartWay[] | undefined;
  /** Milliseconds that another plan saves at least to be better than these, where the time is the last term; none when left out. */
  readonly saving?: number | undefined;
  /** Whether a plan is enough that costs the least there can be in all terms before the time, one by these ways too. */
  readonly enough?: boolean | undefined;
  /** Facts of the same files, by settings that differ at most as `Facts.under` says: for one more plan of them. */
  readonly facts?: Facts | undefined;
  /** False leaves out why there is no plan where there is none: for whoever only asks whether there is one. */
  readonly reasons?: boolean | undefined;
  /** Ends with the first plan that is found, good or not: for whoever only asks whether there is one. */
  readonly firstOnly?: boolean | undefined;
  /** Seconds for this plan, of those of the settings: where it is one of several that make a whole. */
  readonly within?: number | undefined;
  readonly clock?: BudgetLimits['clock'];
  readonly stopRequested?: BudgetLimits['stopRequested'];
  readonly onProgress?: ((progress: SearchProgress) => void) | undefined;
}

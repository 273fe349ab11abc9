import type { Cost } from '../algorithms/cost.js';
import type { PackedProblem } from '../algorithms/solvers/packed-problem.js';
import type { Result } from '../base/result.js';
import type { Issue } from '../model/issue.js';
import type { PlanOutcome, PlanSessionOptions } from '../session/plan.js';

/** What every instance of a study says of itself. */
interface Described {
  /** From the file, not to be trusted as safe to show. */
  readonly name: string;
  /** SHA-256, as 64 hexadecimal digits, of all that the result depends on; not of the name of the file. */
  readonly digest: string;
  /** Things to be put in order. */
  readonly parts: number;
  /** Names of the terms of a cost, most important first. */
  readonly terms: readonly string[];
}

/** An instance that any solver takes. */
export interface PackedInstance extends Described {
  readonly kind: 'abstract' | 'sop' | 'frame';
  /**
   * A fresh problem for each run, since `sharpen` changes one for good. `needed` (what solvers get) may leave out moves as
   * long as some best path is left; with `all` every legal order of items is a path.
   */
  problem(moves?: 'needed' | 'all'): PackedProblem;
  /** The names of what the moves of a path do, in their order. */
  order(moves: readonly number[]): readonly string[];
  /**
   * The cost of an order of names, or in one line why it is not legal; of several ways of doing an item the best one
   * counts. Worked out from the file alone: it shares nothing with `problem`. Never throws, whatever the names are.
   */
  judge(order: readonly string[]): Result<Cost, string>;
}

/** A weldment with shapes: only the whole planner plans it, and only the rules judge what comes of it. */
export interface PlannedInstance extends Described {
  readonly kind: 'weldment';
  plan(options: PlanSessionOptions): PlanOutcome;
}

export type Instance = PackedInstance | PlannedInstance;

/** What came of reading an instance; with any error among the issues there is none. */
export interface InstanceReading {
  readonly value: Instance | undefined;
  readonly issues: readonly Issue[];
}

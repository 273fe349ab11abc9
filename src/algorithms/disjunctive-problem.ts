import type { Budget } from '../base/budget.js';

/**
 * Operations, the least times between their starts, and resources that serve one span at a time: the disjunctive
 * graph of Roy and Sussmann (1964), with spans that may cover several operations. All times are whole units.
 */
export interface DisjunctiveProblem {
  /** From 0, by operation. */
  readonly durations: readonly number[];
  readonly arcs: readonly Arc[];
  readonly resources: readonly Resource[];
}

/** The start of `to` comes at least `lag` (from 0) after the start of `from`. */
export interface Arc {
  readonly from: number;
  readonly to: number;
  readonly lag: number;
}

/**
 * What occupies a resource without a break, from the start of operation `first` to the end of operation `last`,
 * however long the waits between them; `last` never starts before `first`. A single operation is both.
 */
export interface Span {
  readonly first: number;
  readonly last: number;
}

/** Spans that never overlap. */
export interface Resource {
  readonly spans: readonly Span[];
  /** `setups[a][b]`: least time from the end of span a to the start of span b wherever b is later than a, next to it or not. */
  readonly setups?: readonly (readonly number[])[];
}

export interface ScheduleOptions {
  /** A step is a node of the search, a probe of a bound, or a move of the local search. */
  readonly budget: Budget;
  readonly onProgress?: (progress: ScheduleProgress) => void;
  /** Only schedules that are no longer than this are looked for. */
  readonly upper?: number;
}

export interface ScheduleProgress {
  readonly steps: number;
  readonly makespan: number | undefined;
  readonly bound: number;
}

/**
 * `impossible`: proved, because arcs lead in a circle, because every order on the resources does, or because no
 * schedule is within `upper`. `none-found`: the budget ended first.
 */
export type ScheduleOutcome = 'optimal' | 'feasible' | 'impossible' | 'none-found';

export interface Schedule {
  readonly makespan: number;
  /** Earliest start of each operation under `orders`. */
  readonly starts: readonly number[];
  /** For each resource the indices of its spans, in their order. */
  readonly orders: readonly (readonly number[])[];
  /** Operations of one longest path, first to last: each fixes the start of the next, the last ends at the makespan. */
  readonly critical: readonly number[];
}

export interface ScheduleReport {
  readonly outcome: ScheduleOutcome;
  readonly best?: Schedule;
  /** No schedule is shorter than this; Infinity where there is none. */
  readonly bound: number;
  /** Nodes that the search has branched on. */
  readonly nodes: number;
  readonly improvements: readonly { readonly step: number; readonly makespan: number }[];
}

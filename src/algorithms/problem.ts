import type { Budget } from '../base/budget.js';
import type { Cost } from './cost.js';

export type { Cost } from './cost.js';

/** One legal move: where it leads, what it is called, what it costs. */
export interface Transition<State, Step> {
  readonly to: State;
  readonly step: Step;
  readonly cost: Cost;
}

/** Whether a path may still be better than the best one known if its next move and all after it cost at least this. */
export type MayPay = (least: Cost) => boolean;

/** Moves that have something in common, worked out only when they are asked for. */
export interface Candidate<State, Step> {
  /** What they have in common; the same in every state. Candidates of a state have different ones. */
  readonly id: number;
  /** Compared as costs are: a dive asks for the least first. Of equal length in all candidates of a state. */
  readonly promise: readonly number[];
  /** Moves of which `mayPay` says that they cannot be part of a better path may be left out. */
  readonly moves: (mayPay?: MayPay) => Iterable<Transition<State, Step>>;
}

/** The prefix of so many steps is refused, whatever follows it (0: every path is). */
export interface Refused {
  readonly kind: 'refused';
  readonly depth: number;
  readonly reason: unknown;
}

/** What the full judgement of a whole path says. */
export type Completion<Result> =
  { readonly kind: 'legal'; readonly cost: Cost; readonly result: Result } | Refused;

/**
 * A layered decision problem with vector costs: find the path from the start to the last layer whose cost is
 * lexicographically least. All functions must be deterministic.
 */
export interface SearchProblem<State, Step, Result = undefined> {
  /** Length of every cost vector, at least 1. */
  readonly terms: number;
  readonly start: State;
  /** The states of this layer are the goals. */
  readonly layers: number;
  /** 0 at the start, one more with each transition. */
  layer(state: State): number;
  /** The legal moves, in a fixed order. */
  transitions(state: State): Iterable<Transition<State, Step>>;
  /**
   * All that `transitions` gives, in the same order, by candidates. With it the search asks between two of them whether it
   * has to stop, and can dive.
   */
  candidates?(state: State): readonly Candidate<State, Step>[];
  /** States of a layer with equal keys have the same future: the same moves at the same costs. */
  key(state: State): string;
  /** Lexicographically at most the transition costs of any path from here to a goal; infinite if there is none. */
  bound(state: State): Cost;
  /**
   * Judges a whole path. `cost` must not be less than the sum of the transition costs; without this function
   * that sum is the cost. `depth` of a refusal is the length of the shortest prefix that is already refused
   * whatever follows it (0: every path is).
   */
  complete?(steps: readonly Step[]): Completion<Result>;
  /**
   * Why `complete` would refuse every path that begins with these steps, as far as that is known already; a dive asks for
   * it step by step.
   */
  refusedAlready?(steps: readonly Step[]): Refused | undefined;
}

/**
 * - `optimal`: `best` is proved to be least;
 * - `feasible`: `best` is legal, and `bound` says how good it may still become;
 * - `impossible`: proved that no path is legal;
 * - `none-in-budget`: nothing legal found, nothing proved.
 */
export type SearchOutcome = 'optimal' | 'feasible' | 'impossible' | 'none-in-budget';

export interface SearchCounters {
  /** States whose transitions were asked for, in a dive once for each candidate; each spends one step of the budget. */
  expanded: number;
  /** Transitions followed. */
  generated: number;
  /** Whole paths judged legal. */
  completed: number;
  /** Whole paths judged and refused. */
  refused: number;
  /** Nodes left because their bound could not beat the best path. */
  pruned: number;
  /** Nodes set aside because an equal state was reached at no more cost. */
  dominated: number;
  /** Nodes taken up again after they were set aside. */
  released: number;
  /** Nodes lost to the memory cap; their bounds stay in `bound`. */
  dropped: number;
}

export interface SearchBest<Step, Result> {
  readonly steps: readonly Step[];
  readonly cost: Cost;
  /** What `complete` made of the path; undefined for a problem without `complete`. */
  readonly result: Result;
}

export interface SearchReport<Step, Result> {
  readonly outcome: SearchOutcome;
  readonly best?: SearchBest<Step, Result>;
  /** No legal path costs less. All terms infinite when the problem is impossible. */
  readonly bound: Cost;
  /** How many leading terms of the best cost equal those of the bound; 0 without a best path. */
  readonly provedTerms: number;
  readonly counters: Readonly<SearchCounters>;
  /** States that were still waiting when the search ended; undefined where they are not counted. */
  readonly waiting?: number;
  /** Each new best cost with the budget step at which it was found. */
  readonly improvements: readonly { readonly step: number; readonly cost: Cost }[];
}

export interface SearchProgress {
  readonly steps: number;
  readonly width: number;
  readonly best: Cost | undefined;
  readonly bound: Cost;
}

export interface SearchOptions<Step, State = unknown, Result = unknown> {
  readonly budget: Budget;
  /** Most nodes kept waiting at a time; no cap when absent. */
  readonly maxNodes?: number;
  /**
   * Begins with dives to a first path, candidate by candidate, before whole states are expanded: for problems in which
   * one candidate is dear to judge. Needs `candidates`.
   */
  readonly dive?: boolean;
  /**
   * A legal path that is known, with what `complete` makes of it: looked for is what costs less than its `cost`, which may be
   * put lower than what it costs. Where nothing does, it is the best of the report, at that cost, which then bounds the others.
   */
  readonly known?: SearchBest<Step, Result> | undefined;
  /** Called for every state whose moves are asked for, once. */
  readonly onState?: (state: State) => void;
  /** Called after every pass and dive; a dive has width 0. */
  readonly onProgress?: (progress: SearchProgress) => void;
  /** Called for every path that `complete` refuses. */
  readonly onRefusal?: (refusal: {
    readonly steps: readonly Step[];
    readonly depth: number;
    readonly reason: unknown;
  }) => void;
}

import { backUpBounds, tightenedBound } from './backed-up-bounds.js';
import { compareCost, earlierCost, equalTerms, unreachableCost, zeroCost, type Cost } from './cost.js';
import { Dominance } from './dominance.js';
import { Frontier } from './frontier.js';
import type {
  SearchBest,
  SearchCounters,
  SearchOptions,
  SearchOutcome,
  SearchProblem,
  SearchReport,
} from './problem.js';
import { ancestorIn, childNode, rootNode, stepsTo, type SearchNode, type StateEntry } from './search-node.js';

const WIDEST = 2 ** 30;

/**
 * Finds the lexicographically least legal path of a layered problem, and proves it. Anytime: the first pass is
 * a greedy dive, each further pass is twice as wide, and no node is expanded twice, so that the passes together
 * are complete (complete beam search after Zhang, AAAI 1998, with open lists kept between passes).
 *
 * Where whole paths are judged by `complete`, equal states are first compared by the cost of their moves. When
 * that is exhausted and the best path still costs more than its moves, or some were refused, the paths set
 * aside are enumerated, led by the exact bounds that the first part has left behind.
 *
 * The same problem and the same budget in steps give the same report.
 */
export function search<State, Step, Result>(
  problem: SearchProblem<State, Step, Result>,
  options: SearchOptions<Step>,
): SearchReport<Step, Result> {
  const run = new Run(problem, options);
  run.widenUntilDone();
  return run.report();
}

class Run<State, Step, Result> {
  private readonly counters: SearchCounters = noCounts();
  private readonly frontier: Frontier<State, Step>;
  private readonly dominance: Dominance<State, Step>;
  private readonly judged: boolean;
  private readonly improvements: { step: number; cost: Cost }[] = [];
  private best: SearchBest<Step, Result> | undefined;
  private enumerating = false;
  private made = 0;

  constructor(
    private readonly problem: SearchProblem<State, Step, Result>,
    private readonly options: SearchOptions<Step>,
  ) {
    const { layers } = problem;
    this.judged = problem.complete !== undefined;
    this.frontier = new Frontier(layers, options.maxNodes ?? Infinity, this.counters);
    this.dominance = new Dominance(layers, this.judged, this.frontier, this.counters);
    if (problem.layer(problem.start) !== 0) throw new RangeError('The start is not in layer 0.');
    this.admit(rootNode(problem, zeroCost(problem.terms)));
  }

  widenUntilDone(): void {
    const { budget, onProgress } = this.options;
    let width = 1;
    for (;;) {
      if (!this.frontier.hasOpen()) {
        if (!this.beginEnumeration()) return;
        width = 1;
      }
      this.pass(width);
      onProgress?.({ steps: budget.steps, width, best: this.best?.cost, bound: this.bound() });
      if (budget.exhaustedBy() !== undefined) return;
      width = Math.min(2 * width, WIDEST);
    }
  }

  /** One sweep over the layers, at most `width` nodes in each; goals are judged at the end of it. */
  private pass(width: number): void {
    for (let layer = 0; layer < this.problem.layers; layer += 1) {
      for (let count = 0; count < width; count += 1) {
        const node = this.frontier.best(layer);
        if (node === undefined) break;
        if (!this.options.budget.take()) return this.completeGoals(width);
        this.expand(node);
        this.frontier.trim();
      }
    }
    this.completeGoals(width);
  }

  private expand(node: SearchNode<State, Step>): void {
    this.counters.expanded += 1;
    this.frontier.leave(node, 'expanded');
    const children: SearchNode<State, Step>[] = [];
    for (const move of this.problem.transitions(node.state)) {
      this.counters.generated += 1;
      this.made += 1;
      const child = childNode(this.problem, node, move, this.made);
      if (this.judged) children.push(child);
      this.admit(child);
    }
    if (!this.judged) return;
    node.children = children;
    node.living = children.length;
  }

  private admit(node: SearchNode<State, Step>): void {
    if (this.hopeless(node.f)) return this.frontier.prune(node);
    if (node.layer === this.problem.layers) return this.frontier.open(node);
    const entry = this.dominance.entryOf(node.layer, this.problem.key(node.state));
    if (!this.enumerating) return this.dominance.admit(node, entry);
    node.entry = entry;
    node.f = tightenedBound(node);
    if (this.hopeless(node.f)) this.frontier.prune(node);
    else this.frontier.open(node);
  }

  /** Judges the best goals: `width` of them, and more as long as there is no legal path at all. */
  private completeGoals(width: number): void {
    const { budget } = this.options;
    for (let count = 0; count < width || this.best === undefined; count += 1) {
      const node = this.frontier.best(this.problem.layers);
      const stopped = budget.exhaustedBy();
      if (node === undefined || stopped === 'seconds' || stopped === 'stop') return;
      this.complete(node);
    }
  }

  private complete(node: SearchNode<State, Step>): void {
    const steps = stepsTo(node);
    const said = this.problem.complete?.(steps);
    if (said?.kind === 'refused') {
      this.counters.refused += 1;
      this.options.onRefusal?.({ steps, depth: said.depth, reason: said.reason });
      if (!(said.depth >= 0 && said.depth <= node.layer))
        throw new RangeError(`A refusal at depth ${said.depth} of a path of ${node.layer} steps.`);
      return this.kill(ancestorIn(node, said.depth));
    }
    const cost = said?.cost ?? node.g;
    if (compareCost(cost, node.g) < 0) throw new RangeError('A path was judged cheaper than its moves.');
    this.counters.completed += 1;
    this.frontier.leave(node, 'completed');
    if (this.frontier.beaten(cost)) return;
    this.frontier.cutoff = cost;
    this.best = { steps, cost, result: said?.result as Result };
    this.improvements.push({ step: this.options.budget.steps, cost });
  }

  /** Ends every path that begins with this one, and hands their states over to the paths parked behind. */
  private kill(root: SearchNode<State, Step>): void {
    const vacant = new Set<StateEntry<State, Step>>();
    const stack = [highestHopeless(root)];
    for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
      if (node.status === 'dead') continue;
      this.frontier.leave(node, 'dead');
      if (node.entry?.champion === node) vacant.add(node.entry);
      if (node.children !== undefined) stack.push(...node.children);
    }
    for (const entry of vacant) this.dominance.succeed(entry);
  }

  /** Releases the parked nodes that may still beat the best path; false if there are none. */
  private beginEnumeration(): boolean {
    if (this.enumerating || !this.judged) return false;
    this.enumerating = true;
    backUpBounds(this.dominance.entries, this.problem.terms);
    for (const node of this.frontier.parkedNodes()) {
      node.f = tightenedBound(node);
      if (this.hopeless(node.f)) this.frontier.prune(node);
      else this.dominance.release(node);
    }
    for (const layer of this.dominance.entries)
      for (const entry of layer.values()) entry.champion = undefined;
    return this.frontier.hasOpen();
  }

  private hopeless(bound: Cost): boolean {
    return bound[0] === Infinity || this.frontier.beaten(bound);
  }

  /** Least cost that any legal path may still have. */
  private bound(): Cost {
    let lowest = this.best?.cost ?? unreachableCost(this.problem.terms);
    lowest = earlierCost(lowest, this.frontier.lowestBound() ?? lowest);
    if (this.judged && !this.enumerating) {
      backUpBounds(this.dominance.entries, this.problem.terms);
      for (const node of this.frontier.parkedNodes()) lowest = earlierCost(lowest, tightenedBound(node));
    }
    return lowest;
  }

  report(): SearchReport<Step, Result> {
    const bound = this.bound();
    const { best, counters, improvements } = this;
    const provedTerms = best === undefined ? 0 : equalTerms(best.cost, bound);
    const outcome = outcomeOf(best?.cost, bound);
    return { outcome, ...(best && { best }), bound, provedTerms, counters, improvements };
  }
}

function outcomeOf(best: Cost | undefined, bound: Cost): SearchOutcome {
  if (best !== undefined) return compareCost(bound, best) >= 0 ? 'optimal' : 'feasible';
  return bound[0] === Infinity ? 'impossible' : 'none-in-budget';
}

/** Marks the death of the node up its path: the highest ancestor that is left without a living child. */
function highestHopeless<State, Step>(node: SearchNode<State, Step>): SearchNode<State, Step> {
  let at = node;
  for (let parent = at.parent; parent !== undefined; parent = at.parent) {
    parent.living -= 1;
    if (parent.living > 0) break;
    at = parent;
  }
  return at;
}

function noCounts(): SearchCounters {
  const none = { expanded: 0, generated: 0, completed: 0, refused: 0 };
  return { ...none, pruned: 0, dominated: 0, released: 0, dropped: 0 };
}

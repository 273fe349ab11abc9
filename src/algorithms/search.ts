import { backUpBounds, tightenedBound } from './backed-up-bounds.js';
import {
  addCost,
  compareCost,
  earlierCost,
  equalTerms,
  unreachableCost,
  zeroCost,
  type Cost,
} from './cost.js';
import { Dominance } from './dominance.js';
import { Frontier } from './frontier.js';
import type {
  Candidate,
  MayPay,
  Refused,
  SearchBest,
  SearchCounters,
  SearchOptions,
  SearchOutcome,
  SearchProblem,
  SearchReport,
} from './problem.js';
import { Dive } from './candidate-dive.js';
import {
  ancestorIn,
  childNode,
  isBarren,
  isFinished,
  rootNode,
  stepsTo,
  type SearchNode,
  type StateEntry,
} from './search-node.js';

const WIDEST = 2 ** 30;

/**
 * Finds the lexicographically least legal path of a layered problem, and proves it. Anytime: the first pass is
 * a greedy dive, each further pass is twice as wide, and no node is expanded twice, so that the passes together
 * are complete (complete beam search after Zhang, AAAI 1998, with open lists kept between passes).
 *
 * Where one move is dear to judge, it can begin with a dive (`candidate-dive.ts`): some candidates of a few states are judged, and
 * what is left of these states stays open, with the bound that it had.
 *
 * Where whole paths are judged by `complete`, equal states are first compared by the cost of their moves. When
 * that is exhausted and the best path still costs more than its moves, or some were refused, the paths set
 * aside are enumerated, led by the exact bounds that the first part has left behind.
 *
 * The same problem and the same budget in steps give the same report.
 */
export function search<State, Step, Result>(
  problem: SearchProblem<State, Step, Result>,
  options: SearchOptions<Step, State, Result>,
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
  private readonly root: SearchNode<State, Step>;

  constructor(
    private readonly problem: SearchProblem<State, Step, Result>,
    private readonly options: SearchOptions<Step, State, Result>,
  ) {
    const { layers } = problem;
    this.judged = problem.complete !== undefined;
    this.frontier = new Frontier(layers, options.maxNodes ?? Infinity, this.counters);
    this.dominance = new Dominance(layers, this.judged, this.frontier, this.counters);
    this.best = options.known;
    this.frontier.cutoff = options.known?.cost;
    if (problem.layer(problem.start) !== 0) throw new RangeError('The start is not in layer 0.');
    this.root = rootNode(problem, zeroCost(problem.terms));
    this.admit(this.root);
  }

  widenUntilDone(): void {
    const { budget } = this.options;
    const dive = this.options.dive === true ? this.newDive() : undefined;
    let width = 1;
    for (;;) {
      if (!this.frontier.hasOpen()) {
        if (!this.beginEnumeration()) return;
        width = 1;
      }
      if (this.best === undefined && dive !== undefined) {
        dive.down(this.root, width * this.problem.layers);
        this.tell(0);
        if (isOver(budget.exhaustedBy())) return;
      }
      this.pass(width);
      this.tell(width);
      if (budget.exhaustedBy() !== undefined) return;
      width = Math.min(2 * width, WIDEST);
    }
  }

  private tell(width: number): void {
    const { budget, onProgress } = this.options;
    onProgress?.({ steps: budget.steps, width, best: this.best?.cost, bound: this.bound() });
  }

  /** One sweep over the layers, at most `width` nodes in each; goals are judged at the end of it. */
  private pass(width: number): void {
    for (let layer = 0; layer < this.problem.layers; layer += 1) {
      for (let count = 0; count < width; count += 1) {
        const node = this.frontier.best(layer);
        if (node === undefined) break;
        if (!this.options.budget.take()) return this.completeGoals(width);
        if (!this.expand(node)) return;
        this.frontier.trim();
      }
    }
    this.completeGoals(width);
  }

  /** Follows all that is left of the moves of a node; false when it had to stop before the last candidate. */
  private expand(node: SearchNode<State, Step>): boolean {
    this.counters.expanded += 1;
    const rest = this.restOf(node);
    const pausing = this.problem.candidates !== undefined;
    for (let next = rest.shift(); next !== undefined; next = rest.shift()) {
      this.follow(node, next);
      if (pausing && rest.length > 0 && isOver(this.options.budget.exhaustedBy())) return false;
    }
    this.finish(node);
    return true;
  }

  /** The candidates of a node that have not been asked. */
  private restOf(node: SearchNode<State, Step>): Candidate<State, Step>[] {
    if (node.rest !== undefined) return node.rest;
    if (this.judged) node.children = [];
    const { problem } = this;
    const { state } = node;
    this.options.onState?.(state);
    const all = { id: 0, promise: [], moves: () => problem.transitions(state) };
    return (node.rest = problem.candidates ? [...problem.candidates(state)] : [all]);
  }

  private follow(
    node: SearchNode<State, Step>,
    { id, moves }: Candidate<State, Step>,
  ): SearchNode<State, Step>[] {
    const made: SearchNode<State, Step>[] = [];
    const mayPay: MayPay = (least) => {
      const pays = !this.frontier.beaten(addCost(node.g, least));
      if (!pays) node.leftOut = earlierCost(node.leftOut ?? least, least);
      return pays;
    };
    for (const move of moves(mayPay)) {
      this.counters.generated += 1;
      this.made += 1;
      const child = childNode(this.problem, node, move, id, this.made);
      made.push(child);
      node.children?.push(child);
      node.living += 1;
      this.admit(child);
    }
    return made;
  }

  /** All moves of a node have been followed; where paths that begin with each of them were refused, it dies with them. */
  private finish(node: SearchNode<State, Step>): void {
    this.frontier.leave(node, 'expanded');
    if (this.judged && node.children!.length > 0 && isBarren(node)) this.kill(node);
  }

  private newDive(): Dive<State, Step> {
    const { problem, options, counters, frontier } = this;
    return new Dive<State, Step>({
      layers: problem.layers,
      restOf: (node) => this.restOf(node),
      ask: (node, candidate) => {
        if (!options.budget.take()) return undefined;
        counters.expanded += 1;
        const made = this.follow(node, candidate);
        if (isFinished(node)) this.finish(node);
        frontier.trim();
        return made;
      },
      refuse: (node) => this.refusedNode(node),
      isHopeless: (node) => this.hopeless(node.f),
    });
  }

  /** The node at which a path is refused, which is then dead: by its judgement if it is whole, else by what is known of it. */
  private refusedNode(node: SearchNode<State, Step>): SearchNode<State, Step> | undefined {
    if (node.layer === this.problem.layers) return this.complete(node);
    const steps = stepsTo(node);
    const said = this.problem.refusedAlready?.(steps);
    return said && this.refuse(node, steps, said);
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
      if (node === undefined || isOver(stopped)) return;
      this.complete(node);
    }
  }

  /** Judges a whole path; gives the node at which it is refused. */
  private complete(node: SearchNode<State, Step>): SearchNode<State, Step> | undefined {
    const steps = stepsTo(node);
    const said = this.problem.complete?.(steps);
    if (said?.kind === 'refused') return this.refuse(node, steps, said);
    const cost = said?.cost ?? node.g;
    if (compareCost(cost, node.g) < 0) throw new RangeError('A path was judged cheaper than its moves.');
    this.counters.completed += 1;
    this.frontier.leave(node, 'completed');
    if (this.frontier.beaten(cost)) return undefined;
    this.frontier.cutoff = cost;
    this.best = { steps, cost, result: said?.result as Result };
    this.improvements.push({ step: this.options.budget.steps, cost });
    return undefined;
  }

  private refuse(
    node: SearchNode<State, Step>,
    steps: readonly Step[],
    { depth, reason }: Refused,
  ): SearchNode<State, Step> {
    this.counters.refused += 1;
    this.options.onRefusal?.({ steps, depth, reason });
    if (!(depth >= 0 && depth <= node.layer))
      throw new RangeError(`A refusal at depth ${depth} of a path of ${node.layer} steps.`);
    const refused = ancestorIn(node, depth);
    this.kill(refused);
    return refused;
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
    const waiting = this.frontier.count;
    return { outcome, ...(best && { best }), bound, provedTerms, counters, waiting, improvements };
  }
}

/** Whether a budget has ended so that nothing more may be begun; whole paths are still judged when the steps have ended. */
const isOver = (by: 'steps' | 'seconds' | 'stop' | undefined): boolean => by === 'seconds' || by === 'stop';

function outcomeOf(best: Cost | undefined, bound: Cost): SearchOutcome {
  if (best !== undefined) return compareCost(bound, best) >= 0 ? 'optimal' : 'feasible';
  return bound[0] === Infinity ? 'impossible' : 'none-in-budget';
}

/** Marks the death of the node up its path: the highest ancestor that is left without a living child. */
function highestHopeless<State, Step>(node: SearchNode<State, Step>): SearchNode<State, Step> {
  let at = node;
  for (let parent = at.parent; parent !== undefined; parent = at.parent) {
    parent.living -= 1;
    if (!isBarren(parent)) break;
    at = parent;
  }
  return at;
}

function noCounts(): SearchCounters {
  const none = { expanded: 0, generated: 0, completed: 0, refused: 0 };
  return { ...none, pruned: 0, dominated: 0, released: 0, dropped: 0 };
}

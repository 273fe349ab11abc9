import { Followers } from './disjunctive-followers.js';
import type { Network } from './disjunctive-network.js';
import { edgeFinder, type EdgeFinder } from './edge-finding.js';
import { NumberQueue } from './number-queue.js';

/** Which span of a pair comes first. */
export type Side = 1 | 2;
export const UNDECIDED = 0;
export const LEFT_FIRST: Side = 1;
export const RIGHT_FIRST: Side = 2;
export const otherSide = (side: Side): Side => (side === LEFT_FIRST ? RIGHT_FIRST : LEFT_FIRST);

/**
 * Orders decided so far, with all that follows from them for schedules of at most `upper`: heads (earliest starts),
 * tails (least time from a start to the end of everything), what follows what, and further orders.
 *
 * A span is judged as one task of its machine twice: for what must come before it as its last stretch of its
 * least length, for what must come after it as its first stretch. Both lie inside the span, so what holds for
 * them holds for the spans, and each keeps the sharper of the two windows that waits inside a span allow.
 */
export class Selection {
  readonly heads: Int32Array;
  readonly tails: Int32Array;
  /** UNDECIDED or a side, by pair. */
  readonly choice: Uint8Array;
  upper: number;
  /** One more than how often edge finding or the pairs of a resource have ended a branch. */
  readonly resourceBlame: Float64Array;

  private readonly followers: Followers;
  private readonly trail: number[] = [];
  private readonly levels: Level[] = [];
  private depth = 0;
  /** Arcs of decided pairs, listed by their source and by their target; an arc has the number of its pair. */
  private readonly firstAfter: Int32Array;
  private readonly firstBefore: Int32Array;
  private readonly nextAfter: Int32Array;
  private readonly nextBefore: Int32Array;
  private readonly arcFrom: Int32Array;
  private readonly arcTo: Int32Array;
  private readonly arcLag: Int32Array;

  private readonly headQueue: NumberQueue;
  private readonly tailQueue: NumberQueue;
  private readonly resourceQueue: NumberQueue;
  private readonly resourcesOf: readonly Int32Array[];
  private closureGrew = true;
  private readonly finder: EdgeFinder;

  constructor(readonly network: Network) {
    const { size, left, resources, horizon } = network;
    const pairs = left.length;
    this.upper = horizon;
    this.heads = new Int32Array(size);
    this.tails = Int32Array.from(network.durations);
    this.choice = new Uint8Array(pairs);
    this.resourceBlame = new Float64Array(resources.length).fill(1);
    this.followers = new Followers(network);
    this.firstAfter = new Int32Array(size).fill(-1);
    this.firstBefore = new Int32Array(size).fill(-1);
    this.nextAfter = new Int32Array(pairs);
    this.nextBefore = new Int32Array(pairs);
    this.arcFrom = new Int32Array(pairs);
    this.arcTo = new Int32Array(pairs);
    this.arcLag = new Int32Array(pairs);
    this.headQueue = new NumberQueue(size);
    this.tailQueue = new NumberQueue(size);
    this.resourceQueue = new NumberQueue(resources.length);
    this.resourcesOf = resourcesByOperation(network);
    this.finder = edgeFinder(Math.max(0, ...resources.map(({ spans }) => spans.length)));
    for (let i = 0; i < size; i += 1) {
      this.headQueue.push(i);
      this.tailQueue.push(i);
    }
    this.askEverything();
  }

  /** Asks for shorter schedules only; false when there are none. */
  tighten(upper: number): boolean {
    this.upper = upper;
    for (let i = 0; i < this.heads.length; i += 1) if (this.heads[i]! + this.tails[i]! > upper) return false;
    this.askEverything();
    return this.propagate();
  }

  /** What follows from here on can be taken back by `pop`. */
  push(): void {
    const level = (this.levels[this.depth] ??= new Level(this.heads.length, this.followers.bits.length));
    level.heads.set(this.heads);
    level.tails.set(this.tails);
    level.followers.set(this.followers.bits);
    level.trail = this.trail.length;
    level.upper = this.upper;
    this.depth += 1;
  }

  pop(): void {
    this.depth -= 1;
    const level = this.levels[this.depth]!;
    this.heads.set(level.heads);
    this.tails.set(level.tails);
    this.followers.bits.set(level.followers);
    this.upper = level.upper;
    while (this.trail.length > level.trail) this.withdraw(this.trail.pop()!);
    this.forgetQueues();
  }

  /** Decides a pair and all that follows; false when no schedule is left. Then `pop` has to come next. */
  choose(pair: number, side: Side): boolean {
    return this.decide(pair, side) && this.propagate();
  }

  /** Least start of the last operation plus what must follow, were `side` chosen for the pair. */
  through(pair: number, side: Side): number {
    const { left, right, first, last, lagLeftFirst, lagRightFirst } = this.network;
    return side === LEFT_FIRST
      ? this.heads[last[left[pair]!]!]! + lagLeftFirst[pair]! + this.tails[first[right[pair]!]!]!
      : this.heads[last[right[pair]!]!]! + lagRightFirst[pair]! + this.tails[first[left[pair]!]!]!;
  }

  propagate(): boolean {
    for (;;) {
      if (!this.drainHeads() || !this.drainTails()) return false;
      const resource = this.resourceQueue.shift();
      if (resource >= 0) {
        if (this.judgeResource(resource)) continue;
        this.resourceBlame[resource]! += 1;
        return false;
      }
      if (!this.closureGrew) return true;
      this.closureGrew = false;
      for (let pair = 0; pair < this.choice.length; pair += 1)
        if (this.choice[pair] === UNDECIDED && !this.decideIfForced(pair)) return false;
    }
  }

  private askEverything(): void {
    for (let r = 0; r < this.network.resources.length; r += 1) this.resourceQueue.push(r);
  }

  private forgetQueues(): void {
    this.headQueue.clear();
    this.tailQueue.clear();
    this.resourceQueue.clear();
    this.closureGrew = false;
  }

  private decide(pair: number, side: Side): boolean {
    if (this.choice[pair] !== UNDECIDED) return this.choice[pair] === side;
    const { left, right, first, last, lagLeftFirst, lagRightFirst } = this.network;
    const leftFirst = side === LEFT_FIRST;
    const from = last[leftFirst ? left[pair]! : right[pair]!]!;
    const to = first[leftFirst ? right[pair]! : left[pair]!]!;
    if (from === to || this.followers.has(to, from)) return false;
    const lag = leftFirst ? lagLeftFirst[pair]! : lagRightFirst[pair]!;
    this.choice[pair] = side;
    this.trail.push(pair);
    this.arcFrom[pair] = from;
    this.arcTo[pair] = to;
    this.arcLag[pair] = lag;
    this.nextAfter[pair] = this.firstAfter[from]!;
    this.firstAfter[from] = pair;
    this.nextBefore[pair] = this.firstBefore[to]!;
    this.firstBefore[to] = pair;
    if (this.followers.link(from, to)) this.closureGrew = true;
    return this.raiseHead(to, this.heads[from]! + lag) && this.raiseTail(from, this.tails[to]! + lag);
  }

  private withdraw(pair: number): void {
    this.choice[pair] = UNDECIDED;
    this.firstAfter[this.arcFrom[pair]!] = this.nextAfter[pair]!;
    this.firstBefore[this.arcTo[pair]!] = this.nextBefore[pair]!;
  }

  private raiseHead(operation: number, head: number): boolean {
    if (head <= this.heads[operation]!) return true;
    this.heads[operation] = head;
    this.headQueue.push(operation);
    return head + this.tails[operation]! <= this.upper;
  }

  private raiseTail(operation: number, tail: number): boolean {
    if (tail <= this.tails[operation]!) return true;
    this.tails[operation] = tail;
    this.tailQueue.push(operation);
    return tail + this.heads[operation]! <= this.upper;
  }

  private drainHeads(): boolean {
    const { after } = this.network;
    for (let from = this.headQueue.shift(); from >= 0; from = this.headQueue.shift()) {
      const head = this.heads[from]!;
      this.askResourcesOf(from);
      for (let k = after.start[from]!; k < after.start[from + 1]!; k += 1)
        if (!this.raiseHead(after.other[k]!, head + after.lag[k]!)) return false;
      for (let arc = this.firstAfter[from]!; arc >= 0; arc = this.nextAfter[arc]!)
        if (!this.raiseHead(this.arcTo[arc]!, head + this.arcLag[arc]!)) return false;
    }
    return true;
  }

  private drainTails(): boolean {
    const { before } = this.network;
    for (let to = this.tailQueue.shift(); to >= 0; to = this.tailQueue.shift()) {
      const tail = this.tails[to]!;
      this.askResourcesOf(to);
      for (let k = before.start[to]!; k < before.start[to + 1]!; k += 1)
        if (!this.raiseTail(before.other[k]!, tail + before.lag[k]!)) return false;
      for (let arc = this.firstBefore[to]!; arc >= 0; arc = this.nextBefore[arc]!)
        if (!this.raiseTail(this.arcFrom[arc]!, tail + this.arcLag[arc]!)) return false;
    }
    return true;
  }

  private askResourcesOf(operation: number): void {
    for (const resource of this.resourcesOf[operation]!) this.resourceQueue.push(resource);
  }

  /** Decides what is left no choice; false when neither order is possible. */
  private decideIfForced(pair: number): boolean {
    const { left, right, first, last } = this.network;
    const [a, b] = [left[pair]!, right[pair]!];
    const leftFirst = this.through(pair, LEFT_FIRST) <= this.upper && this.mayLead(last[a]!, first[b]!);
    const rightFirst = this.through(pair, RIGHT_FIRST) <= this.upper && this.mayLead(last[b]!, first[a]!);
    if (leftFirst && rightFirst) return true;
    return (leftFirst || rightFirst) && this.decide(pair, leftFirst ? LEFT_FIRST : RIGHT_FIRST);
  }

  private mayLead(from: number, to: number): boolean {
    return from !== to && !this.followers.has(to, from);
  }

  private judgeResource(resource: number): boolean {
    const { spans, pairAt } = this.network.resources[resource]!;
    const count = spans.length;
    const decided = this.trail.length;
    for (let a = 0; a < count; a += 1) {
      for (let b = a + 1; b < count; b += 1) {
        const pair = pairAt[a * count + b]!;
        if (this.choice[pair] === UNDECIDED && !this.decideIfForced(pair)) return false;
      }
    }
    if (this.trail.length > decided) this.resourceQueue.push(resource);
    else if (count > 2) return this.findEdges(resource, 'heads') && this.findEdges(resource, 'tails');
    return true;
  }

  /** Edge finding on one resource, forward or with time turned round. */
  private findEdges(resource: number, what: 'heads' | 'tails'): boolean {
    const { first, last, durations, length, resources } = this.network;
    const { spans, pairAt } = resources[resource]!;
    const { tasks, findings, raiseHeads } = this.finder;
    const count = spans.length;
    const forward = what === 'heads';
    tasks.count = count;
    for (let i = 0; i < count; i += 1) {
      const span = spans[i]!;
      const [begin, end] = [first[span]!, last[span]!];
      tasks.length[i] = length[span]!;
      tasks.head[i] = forward
        ? this.heads[end]! + durations[end]! - length[span]!
        : this.tails[begin]! - length[span]!;
      tasks.tail[i] = forward ? this.tails[end]! - durations[end]! : this.heads[begin]!;
    }
    if (!raiseHeads(this.upper)) return false;
    for (let i = 0; i < count; i += 1) {
      const after = findings.after[i]!;
      if (after < 0) continue;
      if (!this.raiseEdge(spans[i]!, after, forward)) return false;
      for (let j = 0; j < count; j += 1) {
        if (findings.later[i * count + j] === 0) continue;
        const pair = pairAt[i * count + j]!;
        if (!this.decide(pair, forward === i > j ? LEFT_FIRST : RIGHT_FIRST)) return false;
      }
    }
    return true;
  }

  private raiseEdge(span: number, value: number, forward: boolean): boolean {
    const { first, last, durations } = this.network;
    return forward
      ? this.raiseHead(first[span]!, value)
      : this.raiseTail(last[span]!, value + durations[last[span]!]!);
  }
}

/** What `pop` brings back. */
class Level {
  readonly heads: Int32Array;
  readonly tails: Int32Array;
  readonly followers: Uint32Array;
  trail = 0;
  upper = 0;

  constructor(size: number, words: number) {
    this.heads = new Int32Array(size);
    this.tails = new Int32Array(size);
    this.followers = new Uint32Array(words);
  }
}

function resourcesByOperation({ size, first, last, resources }: Network): Int32Array[] {
  const sets = Array.from({ length: size }, () => new Set<number>());
  resources.forEach(({ spans }, resource) => {
    for (const span of spans) {
      sets[first[span]!]!.add(resource);
      sets[last[span]!]!.add(resource);
    }
  });
  return sets.map((set) => Int32Array.from(set));
}

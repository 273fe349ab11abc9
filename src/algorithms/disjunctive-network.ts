import type { Arc, DisjunctiveProblem, Resource } from './disjunctive-problem.js';

/** Arcs by one of their ends: those of operation i stand from `start[i]` to before `start[i + 1]`. */
export interface Links {
  readonly start: Int32Array;
  readonly other: Int32Array;
  readonly lag: Int32Array;
}

/** A disjunctive problem laid out for the inner loops; spans are numbered through all resources. */
export interface Network {
  readonly size: number;
  readonly durations: Int32Array;
  readonly after: Links;
  readonly before: Links;
  /** Operations in an order that agrees with the arcs. */
  readonly order: Int32Array;
  readonly first: Int32Array;
  readonly last: Int32Array;
  /** Least time from the start to the end of each span. */
  readonly length: Int32Array;
  readonly resources: readonly NetworkResource[];
  /** Pairs of spans of one resource, left and right, with the least time from the start of the last operation of one to that of the first of the other. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  readonly lagLeftFirst: Int32Array;
  readonly lagRightFirst: Int32Array;
  readonly resourceOfPair: Int32Array;
  /** No makespan is longer, whatever the orders. */
  readonly horizon: number;
}

export interface NetworkResource {
  /** Numbers of its spans. */
  readonly spans: Int32Array;
  /** By place of two spans: their pair, the place of the left one being the lower. */
  readonly pairAt: Int32Array;
  readonly setups: readonly (readonly number[])[] | undefined;
}

/** Sums of times stay exact below this in the arrays. */
const LARGEST = 2 ** 30;

/** Nothing when the arcs lead in a circle. */
export function compileNetwork(problem: DisjunctiveProblem): Network | undefined {
  checkProblem(problem);
  const size = problem.durations.length;
  const durations = Int32Array.from(problem.durations);
  const arcs = [...problem.arcs, ...arcsInside(problem.resources)];
  const after = linksBy(size, arcs, 'from');
  const before = linksBy(size, arcs, 'to');
  const order = orderOf(size, after);
  if (order === undefined) return undefined;
  const spans = problem.resources.flatMap((resource) => resource.spans);
  const length = spans.map(({ first, last }) => longestPath(order, after, first, last) + durations[last]!);
  const resources = resourcesOf(problem.resources);
  const network = {
    ...{ size, durations, after, before, order, resources },
    first: Int32Array.from(spans, (span) => span.first),
    last: Int32Array.from(spans, (span) => span.last),
    length: Int32Array.from(length),
  };
  const pairs = pairsOf(network);
  const horizon = horizonOf(network, pairs);
  if (horizon >= LARGEST)
    throw new RangeError(`The times add up to ${horizon}; at most ${LARGEST} can be handled.`);
  return { ...network, ...pairs, horizon };
}

function checkProblem({ durations, arcs, resources }: DisjunctiveProblem): void {
  const time = (value: number | undefined, what: string): void => {
    if (value === undefined || !Number.isInteger(value) || value < 0 || value >= LARGEST)
      throw new RangeError(`${what} is ${value}; it has to be whole, from 0 and below ${LARGEST}.`);
  };
  const operation = (value: number, what: string): void => {
    if (!Number.isInteger(value) || value < 0 || value >= durations.length)
      throw new RangeError(`${what} is ${value}; operations are numbered from 0 to ${durations.length - 1}.`);
  };
  durations.forEach((value, i) => time(value, `Duration ${i}`));
  arcs.forEach(({ from, to, lag }, i) => {
    operation(from, `The source of arc ${i}`);
    operation(to, `The target of arc ${i}`);
    time(lag, `The lag of arc ${i}`);
  });
  resources.forEach(({ spans, setups }, r) => {
    spans.forEach(({ first, last }, a) => {
      operation(first, `The first operation of span ${a} of resource ${r}`);
      operation(last, `The last operation of span ${a} of resource ${r}`);
      if (setups === undefined) return;
      spans.forEach((_, b) => {
        if (a !== b) time(setups[a]?.[b], `Set-up ${a} to ${b} of resource ${r}`);
      });
    });
  });
}

const arcsInside = (resources: readonly Resource[]): Arc[] =>
  resources.flatMap(({ spans }) =>
    spans.flatMap(({ first, last }) => (first === last ? [] : [{ from: first, to: last, lag: 0 }])),
  );

function linksBy(size: number, arcs: readonly Arc[], end: 'from' | 'to'): Links {
  const start = new Int32Array(size + 1);
  for (const arc of arcs) start[arc[end] + 1]! += 1;
  for (let i = 0; i < size; i += 1) start[i + 1]! += start[i]!;
  const next = start.slice();
  const other = new Int32Array(arcs.length);
  const lag = new Int32Array(arcs.length);
  for (const arc of arcs) {
    const at = next[arc[end]]!++;
    other[at] = end === 'from' ? arc.to : arc.from;
    lag[at] = arc.lag;
  }
  return { start, other, lag };
}

/** Kahn 1962; nothing when there is a circle. */
function orderOf(size: number, after: Links): Int32Array | undefined {
  const missing = new Int32Array(size);
  for (const to of after.other) missing[to]! += 1;
  const order = new Int32Array(size);
  let count = 0;
  for (let i = 0; i < size; i += 1) if (missing[i] === 0) order[count++] = i;
  for (let at = 0; at < count; at += 1) {
    const from = order[at]!;
    for (let k = after.start[from]!; k < after.start[from + 1]!; k += 1) {
      const to = after.other[k]!;
      missing[to]! -= 1;
      if (missing[to] === 0) order[count++] = to;
    }
  }
  return count === size ? order : undefined;
}

function longestPath(order: Int32Array, after: Links, from: number, to: number): number {
  if (from === to) return 0;
  const far = new Int32Array(order.length).fill(-1);
  far[from] = 0;
  for (const i of order) {
    if (far[i]! < 0) continue;
    for (let k = after.start[i]!; k < after.start[i + 1]!; k += 1) {
      const next = after.other[k]!;
      far[next] = Math.max(far[next]!, far[i]! + after.lag[k]!);
    }
  }
  return far[to]!;
}

function resourcesOf(resources: readonly Resource[]): NetworkResource[] {
  let span = 0;
  let pair = 0;
  return resources.map(({ spans, setups }) => {
    const count = spans.length;
    const pairAt = new Int32Array(count * count).fill(-1);
    for (let a = 0; a < count; a += 1) {
      for (let b = a + 1; b < count; b += 1) pairAt[a * count + b] = pairAt[b * count + a] = pair++;
    }
    return { spans: Int32Array.from(spans, () => span++), pairAt, setups };
  });
}

type Pairs = Pick<Network, 'left' | 'right' | 'lagLeftFirst' | 'lagRightFirst' | 'resourceOfPair'>;

function pairsOf(network: Pick<Network, 'durations' | 'last' | 'resources'>): Pairs {
  const { durations, last, resources } = network;
  const pairs = resources.flatMap(({ spans, setups }, resource) =>
    [...spans].flatMap((left, a) =>
      [...spans.subarray(a + 1)].map((right, i) => {
        const b = a + 1 + i;
        const lagLeftFirst = durations[last[left]!]! + (setups?.[a]?.[b] ?? 0);
        const lagRightFirst = durations[last[right]!]! + (setups?.[b]?.[a] ?? 0);
        return { left, right, lagLeftFirst, lagRightFirst, resource };
      }),
    ),
  );
  return {
    left: Int32Array.from(pairs, ({ left }) => left),
    right: Int32Array.from(pairs, ({ right }) => right),
    lagLeftFirst: Int32Array.from(pairs, (pair) => pair.lagLeftFirst),
    lagRightFirst: Int32Array.from(pairs, (pair) => pair.lagRightFirst),
    resourceOfPair: Int32Array.from(pairs, ({ resource }) => resource),
  };
}

/** A longest path leaves each operation at most once, by the longest arc there is. */
function horizonOf(
  { durations, after, last }: Pick<Network, 'durations' | 'after' | 'last'>,
  { left, right, lagLeftFirst, lagRightFirst }: Pairs,
): number {
  const longest = [...durations].map((duration, i) =>
    Math.max(duration, ...after.lag.subarray(after.start[i]!, after.start[i + 1]!)),
  );
  const raise = (operation: number, lag: number): void => {
    longest[operation] = Math.max(longest[operation]!, lag);
  };
  left.forEach((span, pair) => raise(last[span]!, lagLeftFirst[pair]!));
  right.forEach((span, pair) => raise(last[span]!, lagRightFirst[pair]!));
  return longest.reduce((sum, lag) => sum + lag, 0);
}

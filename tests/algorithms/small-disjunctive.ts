import type { DisjunctiveProblem, Resource, Schedule } from '../../src/algorithms/disjunctive-problem.js';
import { seededRandom } from '../../src/base/random.js';

/** Everything of one schedule judged straight from the problem; the complaints. */
export function faultsOf(problem: DisjunctiveProblem, schedule: Schedule): string[] {
  const { starts, orders, critical, makespan } = schedule;
  const end = (operation: number): number => starts[operation]! + problem.durations[operation]!;
  const faults: string[] = [];
  const demand = (holds: boolean, fault: string): void => void (holds || faults.push(fault));
  starts.forEach((start, i) => demand(Number.isInteger(start) && start >= 0, `start ${i}`));
  problem.arcs.forEach((arc, i) => demand(starts[arc.to]! >= starts[arc.from]! + arc.lag, `arc ${i}`));
  problem.resources.forEach(({ spans, setups }, r) => {
    const order = orders[r]!;
    demand([...order].sort((a, b) => a - b).join() === [...spans.keys()].join(), `order ${r}`);
    order.forEach((a, place) =>
      order
        .slice(place + 1)
        .forEach((b) =>
          demand(
            starts[spans[b]!.first]! >= end(spans[a]!.last) + (setups?.[a]?.[b] ?? 0),
            `spans ${a} and ${b} of ${r}`,
          ),
        ),
    );
  });
  demand(makespan === Math.max(0, ...starts.map((_, i) => end(i))), 'makespan');
  if (starts.length > 0) {
    demand(starts[critical[0]!] === 0, 'begin of the critical path');
    demand(end(critical.at(-1)!) === makespan, 'end of the critical path');
    critical.slice(1).forEach((to, i) => demand(gapIs(problem, schedule, critical[i]!, to), `critical ${i}`));
  }
  return faults;
}

/** Whether some arc or neighbourhood on a resource makes `to` start just then. */
function gapIs(problem: DisjunctiveProblem, { starts, orders }: Schedule, from: number, to: number): boolean {
  const gap = starts[to]! - starts[from]!;
  const given = problem.arcs.some((arc) => arc.from === from && arc.to === to && arc.lag === gap);
  const inside = problem.resources.some(({ spans }) =>
    spans.some(({ first, last }) => first === from && last === to && gap === 0),
  );
  const chosen = problem.resources.some(({ spans, setups }, r) =>
    orders[r]!.some((a, place) =>
      orders[r]!.slice(place + 1).some(
        (b) =>
          spans[a]!.last === from &&
          spans[b]!.first === to &&
          problem.durations[from]! + (setups?.[a]?.[b] ?? 0) === gap,
      ),
    ),
  );
  return given || inside || chosen;
}

/** Least makespan over every order of every resource; Infinity where all of them lead in a circle. */
export function leastByListing(problem: DisjunctiveProblem): number {
  const links = [
    ...problem.arcs,
    ...problem.resources.flatMap(({ spans }) =>
      spans
        .filter(({ first, last }) => first !== last)
        .map(({ first, last }) => ({ from: first, to: last, lag: 0 })),
    ),
  ];
  const choices = problem.resources.map((resource) =>
    permutations([...resource.spans.keys()]).map((order) => arcsOf(problem, resource, order)),
  );
  const walk = (at: number, arcs: DisjunctiveProblem['arcs']): number =>
    at === choices.length
      ? makespanOf(problem.durations, arcs)
      : Math.min(...choices[at]!.map((more) => walk(at + 1, [...arcs, ...more])));
  return walk(0, links);
}

function arcsOf(
  { durations }: DisjunctiveProblem,
  { spans, setups }: Resource,
  order: readonly number[],
): DisjunctiveProblem['arcs'] {
  return order.flatMap((a, place) =>
    order.slice(place + 1).map((b) => {
      const from = spans[a]!.last;
      return { from, to: spans[b]!.first, lag: durations[from]! + (setups?.[a]?.[b] ?? 0) };
    }),
  );
}

/** By raising starts until nothing moves; as many rounds as operations are enough where there is no circle. */
function makespanOf(durations: readonly number[], arcs: DisjunctiveProblem['arcs']): number {
  if (hasCircle(durations.length, arcs)) return Infinity;
  const starts = durations.map(() => 0);
  for (let moved = true; moved;) {
    moved = false;
    for (const { from, to, lag } of arcs) {
      if (starts[from]! + lag <= starts[to]!) continue;
      starts[to] = starts[from]! + lag;
      moved = true;
    }
  }
  return Math.max(0, ...starts.map((start, i) => start + durations[i]!));
}

function hasCircle(size: number, arcs: DisjunctiveProblem['arcs']): boolean {
  let left = new Set(Array.from({ length: size }, (_, i) => i));
  for (;;) {
    const held = new Set(arcs.filter(({ from }) => left.has(from)).map(({ to }) => to));
    const next = new Set([...left].filter((i) => held.has(i)));
    if (next.size === left.size) return left.size > 0;
    left = next;
  }
}

function permutations(items: readonly number[]): number[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item) =>
    permutations(items.filter((other) => other !== item)).map((rest) => [item, ...rest]),
  );
}

export interface Shape {
  readonly jobs: number;
  readonly machines: number;
  /** Largest transport time between two operations of a job. */
  readonly transport: number;
  readonly setups: boolean;
}

/** A job-shop where each job visits each machine once. */
export function randomJobShop(
  seed: number,
  { jobs, machines, transport, setups }: Shape,
): DisjunctiveProblem {
  const random = seededRandom(seed);
  const upTo = (most: number): number => Math.floor(random() * (most + 1));
  const durations = Array.from({ length: jobs * machines }, () => upTo(9));
  const arcs = durations.flatMap((duration, from) =>
    (from + 1) % machines === 0 ? [] : [{ from, to: from + 1, lag: duration + upTo(transport) }],
  );
  const routes = Array.from({ length: jobs }, () => shuffled([...Array(machines).keys()], random));
  const resources = Array.from({ length: machines }, (_, machine) => ({
    spans: routes.map((route, job) => {
      const operation = job * machines + route.indexOf(machine);
      return { first: operation, last: operation };
    }),
    ...(setups && { setups: routes.map(() => routes.map(() => upTo(5))) }),
  }));
  return { durations, arcs, resources };
}

/** Chains of operations with arcs across and resources whose spans are stretches of the chains; may be impossible. */
export function randomChains(seed: number): DisjunctiveProblem {
  const random = seededRandom(seed);
  const upTo = (most: number): number => Math.floor(random() * (most + 1));
  const chains = 2 + upTo(1);
  const length = 3 + upTo(4);
  const durations = Array.from({ length: chains * length }, () => upTo(6));
  const arcs = durations.flatMap((duration, from) =>
    (from + 1) % length === 0 ? [] : [{ from, to: from + 1, lag: duration + (upTo(2) === 0 ? upTo(3) : 0) }],
  );
  for (let count = upTo(3); count > 0; count -= 1) {
    const [from, to] = [upTo(chains - 1), upTo(chains - 1)];
    if (from !== to)
      arcs.push({ from: from * length + upTo(length - 1), to: to * length + upTo(length - 1), lag: upTo(8) });
  }
  const stretch = (chain: number) => {
    const [a, b] = [upTo(length - 1), upTo(length - 1)];
    return { first: chain * length + Math.min(a, b), last: chain * length + Math.max(a, b) };
  };
  const resources = Array.from({ length: 1 + upTo(4) }, () => {
    const spans = Array.from({ length: upTo(5) === 0 ? 3 : 2 }, (_, i) => stretch((i + upTo(1)) % chains));
    return { spans, ...(upTo(3) === 0 && { setups: spans.map(() => spans.map(() => upTo(4))) }) };
  });
  return { durations, arcs, resources };
}

function shuffled<T>(items: T[], random: () => number): T[] {
  for (let i = items.length - 1; i > 0; i -= 1) {
    const j = Math.floor(random() * (i + 1));
    [items[i], items[j]] = [items[j]!, items[i]!];
  }
  return items;
}

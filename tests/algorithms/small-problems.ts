import type {
  Candidate,
  Completion,
  Cost,
  Refused,
  SearchProblem,
  Transition,
} from '../../src/algorithms/problem.js';
import { addCost, compareCost, zeroCost } from '../../src/algorithms/cost.js';
import { seededRandom } from '../../src/base/random.js';

/** A random layered graph, small enough to list every path. */
export interface SmallGraph {
  readonly layers: number;
  readonly width: number;
  readonly terms: number;
  /** moves[layer][node]: where to and at what cost. */
  readonly moves: readonly (readonly (readonly { readonly to: number; readonly cost: Cost }[])[])[];
}

export interface SmallState {
  readonly layer: number;
  readonly node: number;
}

export function randomGraph(
  seed: number,
  shape: { layers: number; width: number; terms: number },
): SmallGraph {
  const random = seededRandom(seed);
  const cost = (): Cost => Array.from({ length: shape.terms }, () => Math.floor(random() * 3));
  const moves = Array.from({ length: shape.layers }, () =>
    Array.from({ length: shape.width }, () =>
      Array.from({ length: Math.floor(random() * 4) }, () => ({
        to: Math.floor(random() * shape.width),
        cost: cost(),
      })),
    ),
  );
  return { ...shape, moves };
}

/** Step texts are unique along the graph, so a path is its text. */
export function graphProblem(
  graph: SmallGraph,
  extras: {
    readonly bound?: (state: SmallState) => Cost;
    readonly complete?: (steps: readonly string[]) => Completion<string>;
  } = {},
): SearchProblem<SmallState, string, string> {
  const { complete } = extras;
  return {
    terms: graph.terms,
    layers: graph.layers,
    start: { layer: 0, node: 0 },
    layer: (state) => state.layer,
    key: (state) => String(state.node),
    bound: extras.bound ?? (() => zeroCost(graph.terms)),
    transitions: (state) => movesFrom(graph, state),
    ...(complete && { complete }),
  };
}

/**
 * Moves by where they lead, promising by a hash; a state that is reached by several moves of a candidate is met as well.
 * Moves that cannot pay by the bound of the problem are left out where that is asked.
 */
export const withCandidates = (
  problem: SearchProblem<SmallState, string, string>,
  graph: SmallGraph,
  seed: number,
): SearchProblem<SmallState, string, string> => {
  const candidates = (state: SmallState): Candidate<SmallState, string>[] => {
    const moves = movesFrom(graph, state);
    const ids = [...new Set(moves.map(({ to }) => to.node >> 1))];
    // A candidate without a move, too: one that turns out to be illegal.
    return [...ids, 1000 + (state.node % 2)].map((id) => ({
      id,
      promise: [Math.floor(textChance(`${state.layer} ${state.node} ${id}`, seed) * 3)],
      moves: (mayPay) =>
        moves
          .filter(({ to }) => to.node >> 1 === id)
          .filter(({ to, cost }) => mayPay?.(addCost(cost, problem.bound(to))) ?? true),
    }));
  };
  return {
    ...problem,
    candidates,
    transitions: (state) => candidates(state).flatMap(({ moves }) => [...moves()]),
  };
};

/** What a judge that refuses by prefixes alone knows of a beginning. */
export const knownOf =
  (complete: (steps: readonly string[]) => Completion<string>) =>
  (steps: readonly string[]): Refused | undefined => {
    const said = complete(steps);
    return said.kind === 'refused' ? said : undefined;
  };

function movesFrom(graph: SmallGraph, state: SmallState): Transition<SmallState, string>[] {
  return graph.moves[state.layer]![state.node]!.map((move, index) => ({
    to: { layer: state.layer + 1, node: move.to },
    step: `${state.node}-${index}`,
    cost: move.cost,
  }));
}

/** Every path with the sum of its moves, by plain recursion. */
export function allPaths(graph: SmallGraph): { steps: string[]; cost: Cost }[] {
  const found: { steps: string[]; cost: Cost }[] = [];
  const walk = (state: SmallState, steps: string[], cost: Cost): void => {
    if (state.layer === graph.layers) {
      found.push({ steps, cost });
      return;
    }
    for (const move of movesFrom(graph, state))
      walk(move.to, [...steps, move.step], addCost(cost, move.cost));
  };
  walk({ layer: 0, node: 0 }, [], zeroCost(graph.terms));
  return found;
}

/** Half of the exact cost to go, rounded down in the first term alone: admissible, and not exact. */
export function looseBound(graph: SmallGraph): (state: SmallState) => Cost {
  const firstTerm = (state: SmallState): number => {
    if (state.layer === graph.layers) return 0;
    return Math.min(...movesFrom(graph, state).map((move) => move.cost[0]! + firstTerm(move.to)), 1e6);
  };
  return (state) => [Math.floor(firstTerm(state) / 2), ...zeroCost(graph.terms - 1)];
}

/** A hash of a text in [0, 1), so that a judgement depends on the whole path and on nothing else. */
export function textChance(text: string, seed: number): number {
  let mixed = seed | 0;
  for (const letter of text) mixed = Math.imul(mixed ^ letter.charCodeAt(0), 0x01000193);
  return seededRandom(mixed)();
}

/** Refuses prefixes and adds surcharges in the last term, each by a hash of the path. */
export function harshJudge(
  seed: number,
  rates: { refuse: number; surcharge: number },
  costOf: (steps: readonly string[]) => Cost,
): (steps: readonly string[]) => Completion<string> {
  return (steps) => {
    for (let depth = 1; depth <= steps.length; depth += 1) {
      const prefix = steps.slice(0, depth).join(' ');
      if (textChance(prefix, seed) < rates.refuse) return { kind: 'refused', depth, reason: prefix };
    }
    const text = steps.join(' ');
    const extra =
      textChance(text, seed + 1) < rates.surcharge ? 1 + Math.floor(textChance(text, seed + 2) * 4) : 0;
    const cost = [...costOf(steps)];
    cost[cost.length - 1]! += extra;
    return { kind: 'legal', cost, result: text };
  };
}

export function leastCost(costs: readonly Cost[]): Cost | undefined {
  return [...costs].sort(compareCost)[0];
}

/** Every node leads to every node of the next layer. */
export function fullGraph(layers: number, width: number): SmallGraph {
  const drawn = randomGraph(42, { layers: layers * width * width, width: 1, terms: 1 });
  const draw = (index: number): number =>
    (drawn.moves[index % drawn.layers]![0]!.length * 7 + index * 5) % 11;
  const moves = Array.from({ length: layers }, (_, layer) =>
    Array.from({ length: width }, (_, node) =>
      Array.from({ length: width }, (_, to) => {
        const index = (layer * width + node) * width + to;
        return { to, cost: [draw(index), draw(index + 3)] };
      }),
    ),
  );
  return { layers, width, terms: 2, moves };
}

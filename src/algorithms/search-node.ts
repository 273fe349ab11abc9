import { addCost, laterCost, type Cost } from './cost.js';
import type { Heap } from './heap.js';
import type { SearchProblem, Transition } from './problem.js';

/**
 * What became of a node. `open` waits in its layer's heap; `parked` waits behind an equal state that was
 * reached at no more cost; `expanded` has had its transitions followed; `completed` is a goal found legal;
 * `dead` begins with a refused path or has nothing but such below it; the others are left for good.
 */
export type NodeStatus =
  'made' | 'open' | 'parked' | 'expanded' | 'completed' | 'dead' | 'pruned' | 'superseded' | 'dropped';

/** One path from the start, known by its last move and its parent. */
export interface SearchNode<State, Step> {
  readonly state: State;
  readonly step: Step | undefined;
  readonly parent: SearchNode<State, Step> | undefined;
  readonly layer: number;
  /** Cost of the path. */
  readonly g: Cost;
  /** No completion of this path costs less. */
  f: Cost;
  /** When it was made; settles ties. */
  readonly order: number;
  status: NodeStatus;
  /** What is known of its state, once it has been compared with equal ones. */
  entry: StateEntry<State, Step> | undefined;
  /** Its followers, once expanded; kept only where paths may be refused. */
  children: SearchNode<State, Step>[] | undefined;
  /** How many of the children are not dead. */
  living: number;
}

/** All nodes of a layer that share a key. */
export interface StateEntry<State, Step> {
  /** Kept only where paths may be refused. */
  readonly members: SearchNode<State, Step>[];
  /** The members, cheapest first; the dead ones leave when they come to the top. */
  readonly heirs: Heap<SearchNode<State, Step>>;
  /** The living member that was reached at least cost. */
  champion: SearchNode<State, Step> | undefined;
  /** No way from here to a goal costs less; set once the relaxation is exhausted. */
  toGo: Cost | undefined;
}

export function rootNode<State, Step, Result>(
  problem: SearchProblem<State, Step, Result>,
  zero: Cost,
): SearchNode<State, Step> {
  return node<State, Step>(problem.start, undefined, undefined, zero, problem.bound(problem.start), 0);
}

export function childNode<State, Step, Result>(
  problem: SearchProblem<State, Step, Result>,
  parent: SearchNode<State, Step>,
  move: Transition<State, Step>,
  order: number,
): SearchNode<State, Step> {
  const layer = parent.layer + 1;
  if (problem.layer(move.to) !== layer)
    throw new RangeError(`A transition from layer ${parent.layer} led to layer ${problem.layer(move.to)}.`);
  const g = addCost(parent.g, move.cost);
  const own = layer === problem.layers ? g : addCost(g, problem.bound(move.to));
  return node(move.to, move.step, parent, g, laterCost(parent.f, own), order);
}

function node<State, Step>(
  state: State,
  step: Step | undefined,
  parent: SearchNode<State, Step> | undefined,
  g: Cost,
  f: Cost,
  order: number,
): SearchNode<State, Step> {
  const layer = parent === undefined ? 0 : parent.layer + 1;
  const links = { entry: undefined, children: undefined, living: 0 };
  return { state, step, parent, layer, g, f, order, status: 'made', ...links };
}

/** The moves from the start to the node. */
export function stepsTo<State, Step>(end: SearchNode<State, Step>): Step[] {
  const steps: Step[] = [];
  for (let at = end; at.parent !== undefined; at = at.parent) steps.push(at.step as Step);
  return steps.reverse();
}

/** The node of the path to `end` that lies in `layer`. */
export function ancestorIn<State, Step>(
  end: SearchNode<State, Step>,
  layer: number,
): SearchNode<State, Step> {
  let at = end;
  while (at.layer > layer && at.parent !== undefined) at = at.parent;
  return at;
}

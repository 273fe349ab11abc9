import { addCost, laterCost, type Cost } from './cost.js';
import type { Heap } from './heap.js';
import type { Candidate, SearchProblem, Transition } from './problem.js';

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
  /** Of the candidate of its last move; undefined for the start. */
  readonly candidate: number | undefined;
  /** What has not been asked for yet of its moves; undefined before any was. */
  rest: Candidate<State, Step>[] | undefined;
  /** Its followers as far as they were asked for; kept only where paths may be refused. */
  children: SearchNode<State, Step>[] | undefined;
  /** How many of the children are not dead. */
  living: number;
  /** What a path by a move that was left out, since it cannot pay, costs at least from here; undefined where none was. */
  leftOut: Cost | undefined;
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
  const f = problem.bound(problem.start);
  return node<State, Step>(
    { state: problem.start, step: undefined, g: zero, f, order: 0 },
    undefined,
    undefined,
  );
}

export function childNode<State, Step, Result>(
  problem: SearchProblem<State, Step, Result>,
  parent: SearchNode<State, Step>,
  move: Transition<State, Step>,
  candidate: number,
  order: number,
): SearchNode<State, Step> {
  const layer = parent.layer + 1;
  if (problem.layer(move.to) !== layer)
    throw new RangeError(`A transition from layer ${parent.layer} led to layer ${problem.layer(move.to)}.`);
  const g = addCost(parent.g, move.cost);
  const own = layer === problem.layers ? g : addCost(g, problem.bound(move.to));
  return node({ state: move.to, step: move.step, g, f: laterCost(parent.f, own), order }, parent, candidate);
}

function node<State, Step>(
  made: Pick<SearchNode<State, Step>, 'state' | 'step' | 'g' | 'f' | 'order'>,
  parent: SearchNode<State, Step> | undefined,
  candidate: number | undefined,
): SearchNode<State, Step> {
  const layer = parent === undefined ? 0 : parent.layer + 1;
  const links = { entry: undefined, rest: undefined, children: undefined, living: 0, leftOut: undefined };
  return { ...made, parent, candidate, layer, status: 'made', ...links };
}

/** Whether all its moves have been followed. */
export const isFinished = <State, Step>({ rest }: SearchNode<State, Step>): boolean => rest?.length === 0;

/** Whether paths that begin with each of its moves were refused. */
export const isBarren = <State, Step>(node: SearchNode<State, Step>): boolean =>
  isFinished(node) && node.living === 0 && node.leftOut === undefined;

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

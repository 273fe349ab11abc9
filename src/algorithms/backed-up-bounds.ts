import {
  addCost,
  earlierCost,
  laterCost,
  subtractCost,
  unreachableCost,
  zeroCost,
  type Cost,
} from './cost.js';
import { isFinished, type SearchNode, type StateEntry } from './search-node.js';

/**
 * Bounds on the cost still to go from every known state, worked out backwards from the last layer: an
 * expanded node needs at least its cheapest move plus what the state behind it needs; any other node needs
 * what its own bound says. Equal states share the best of what their members know.
 *
 * Expects every node to keep its children. Valid for the moves alone, so refusals do not weaken it.
 */
export function backUpBounds<State, Step>(
  entries: readonly Map<string, StateEntry<State, Step>>[],
  terms: number,
): void {
  for (let layer = entries.length - 1; layer >= 0; layer -= 1) {
    for (const entry of entries[layer]!.values()) {
      for (const node of entry.members) {
        const needed = ownNeed(node, terms);
        entry.toGo = entry.toGo === undefined ? needed : laterCost(entry.toGo, needed);
      }
    }
  }
}

function ownNeed<State, Step>(node: SearchNode<State, Step>, terms: number): Cost {
  if (node.children === undefined || !isFinished(node)) return subtractCost(node.f, node.g);
  let least = node.leftOut ?? unreachableCost(terms);
  for (const child of node.children) {
    const move = subtractCost(child.g, node.g);
    least = earlierCost(least, addCost(move, needFrom(child, terms)));
  }
  return least;
}

function needFrom<State, Step>(node: SearchNode<State, Step>, terms: number): Cost {
  const own =
    node.children === undefined || !isFinished(node) ? subtractCost(node.f, node.g) : zeroCost(terms);
  return node.entry?.toGo === undefined ? own : laterCost(own, node.entry.toGo);
}

/** The bound of a node, tightened by what is known of its state. */
export function tightenedBound<State, Step>(node: SearchNode<State, Step>): Cost {
  const toGo = node.entry?.toGo;
  return toGo === undefined ? node.f : laterCost(node.f, addCost(node.g, toGo));
}

import {
  LEFT_FIRST,
  RIGHT_FIRST,
  UNDECIDED,
  otherSide,
  type Selection,
  type Side,
} from './disjunctive-selection.js';

export interface BranchOptions {
  /** Asked before every node. */
  readonly mayBranch: () => boolean;
  /** The side to try first, by pair; undecided where nothing speaks for one. */
  readonly preferred: Uint8Array;
  /** Called with every pair decided. */
  readonly onLeaf: () => void;
}

/** Nodes before the search starts again from the top with what it has learnt about the resources, and how that grows. */
const FIRST_RUN = 500;
const GROWTH = 2;

interface Branch {
  readonly pair: number;
  readonly side: Side;
  turned: boolean;
}

/**
 * Depth-first search over the undecided pairs for one schedule within `selection.upper`. The pair with the least
 * room on its two sides (geometric mean) goes first, weighed by how often its resource ended a branch (Boussemart et
 * al. 2004); the search starts again from the top after longer and longer runs, so that early bad choices cost little. Leaves the selection as
 * it was.
 */
export function branchOnPairs(
  selection: Selection,
  options: BranchOptions,
): 'exhausted' | 'better' | 'spent' {
  for (let run = FIRST_RUN; ; run *= GROWTH) {
    const said = oneRun(selection, options, run);
    if (said !== 'again') return said;
  }
}

function oneRun(
  selection: Selection,
  options: BranchOptions,
  nodes: number,
): 'exhausted' | 'better' | 'spent' | 'again' {
  const path: Branch[] = [];
  const leave = <T>(said: T): T => {
    while (path.pop() !== undefined) selection.pop();
    return said;
  };
  for (let count = 0; ; count += 1) {
    const pair = tightestPair(selection);
    if (pair < 0) {
      options.onLeaf();
      return leave('better');
    }
    if (count >= nodes) return leave('again');
    if (!options.mayBranch()) return leave('spent');
    const side = sideToTry(selection, pair, options.preferred);
    path.push({ pair, side, turned: false });
    selection.push();
    if (selection.choose(pair, side)) continue;
    if (!turnBack(selection, path)) return 'exhausted';
  }
}

/** Takes back branches until one can be turned to its other side. */
function turnBack(selection: Selection, path: Branch[]): boolean {
  for (let branch = path.at(-1); branch !== undefined; branch = path.at(-1)) {
    selection.pop();
    if (branch.turned) {
      path.pop();
      continue;
    }
    branch.turned = true;
    selection.push();
    if (selection.choose(branch.pair, otherSide(branch.side))) return true;
  }
  return false;
}

/** The side of the best schedule, for better ones are often near it; else the one that leaves more room. */
function sideToTry(selection: Selection, pair: number, preferred: Uint8Array): Side {
  const side = preferred[pair]!;
  if (side !== UNDECIDED) return side as Side;
  return selection.through(pair, LEFT_FIRST) <= selection.through(pair, RIGHT_FIRST)
    ? LEFT_FIRST
    : RIGHT_FIRST;
}

function tightestPair(selection: Selection): number {
  const { choice, network, resourceBlame, upper } = selection;
  let tightest = -1;
  let least = Infinity;
  for (let pair = 0; pair < choice.length; pair += 1) {
    if (choice[pair] !== UNDECIDED) continue;
    const left = upper - selection.through(pair, LEFT_FIRST) + 1;
    const right = upper - selection.through(pair, RIGHT_FIRST) + 1;
    const score = Math.sqrt(left * right) / resourceBlame[network.resourceOfPair[pair]!]!;
    if (score < least) [tightest, least] = [pair, score];
  }
  return tightest;
}

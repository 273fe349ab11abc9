import { compareCost } from './cost.js';
import type { Candidate } from './problem.js';
import { isFinished, type SearchNode } from './search-node.js';

/** What a dive asks of the search that it is part of. */
export interface DiveHost<State, Step> {
  readonly layers: number;
  /** The candidates of a node that have not been asked; one that is asked is taken out. */
  readonly restOf: (node: SearchNode<State, Step>) => Candidate<State, Step>[];
  /** Spends a step and makes the followers of one candidate; undefined when the budget has ended. */
  readonly ask: (
    node: SearchNode<State, Step>,
    candidate: Candidate<State, Step>,
  ) => readonly SearchNode<State, Step>[] | undefined;
  /** Judges the path to a node; the node at which it is refused, now dead, or undefined. */
  readonly refuse: (node: SearchNode<State, Step>) => SearchNode<State, Step> | undefined;
  readonly isHopeless: (node: SearchNode<State, Step>) => boolean;
}

/** At a dead end, for how many of its candidates it is asked where they still could come, at most (our choice). */
const MOST_STUCK = 3;

/** What came of asking a candidate in a state: a follower to go on with, none, or that it was not one yet. */
type Probed<State, Step> = SearchNode<State, Step> | 'none' | 'not-yet';

/**
 * Goes down from the start to one legal path and judges as few candidates as it can: in every state the most promising one
 * that has a move. Where no candidate has one, it is looked up by bisection of the path how far up those that are stuck
 * still could come, and the dive goes on from the least of these states with the one that is stuck there (a backjump); that one goes first
 * from then on, wherever it is a candidate (weights of conflicts after Boussemart, Hemery, Lecoutre and Sais, ECAI 2004).
 * Where nothing is stuck, or nowhere else could it come, it goes on from the deepest state that has something left.
 *
 * Nothing is left out by it: a state of which some candidates were asked stays open in the search.
 */
export class Dive<State, Step> {
  /** By candidate: how often it was stuck, or its move the last of a refused path. */
  private readonly weights = new Map<number, number>();
  /** By node: candidates that were asked and gave no move. */
  private readonly barren = new Map<SearchNode<State, Step>, number[]>();
  private jumps = 0;
  private over = false;

  constructor(private readonly host: DiveHost<State, Step>) {}

  /** Dives from a node until a path is legal, the budget has ended, nothing is left or it was stuck more than `most` times. */
  down(from: SearchNode<State, Step>, most: number): void {
    this.jumps = 0;
    let at: SearchNode<State, Step> | undefined = from;
    while (at !== undefined && this.jumps <= most) {
      if (at.layer === this.host.layers) {
        if (this.isAccepted(at)) return;
        at = this.deepestLeft(at);
        continue;
      }
      const next = this.next(at);
      if (this.over) return;
      if (next === undefined) at = this.backjump(at);
      else if (this.isAcceptedSoFar(next)) at = next;
      if (this.over) return;
      if (at?.status === 'dead') at = this.deepestLeft(at);
    }
  }

  /** Judges the beginning of a path; a whole one is judged once it is reached. */
  private isAcceptedSoFar(node: SearchNode<State, Step>): boolean {
    return node.layer === this.host.layers || this.isAccepted(node);
  }

  private isAccepted(node: SearchNode<State, Step>): boolean {
    const refused = this.host.refuse(node);
    if (refused === undefined) return true;
    this.jumps += 1;
    if (refused.candidate !== undefined) this.blame(refused.candidate);
    return false;
  }

  private blame(candidate: number): void {
    this.weights.set(candidate, this.weightOf(candidate) + 1);
  }

  private weightOf(candidate: number | undefined): number {
    return (candidate !== undefined && this.weights.get(candidate)) || 0;
  }

  /** A follower to go on with: of the most promising candidate that has any, else one that was left when it was made. */
  private next(node: SearchNode<State, Step>): SearchNode<State, Step> | undefined {
    const rest = this.host.restOf(node);
    while (rest.length > 0 && node.status === 'open') {
      const found = this.ask(node, this.mostPromising(rest));
      if (found !== undefined || this.over) return found;
    }
    return this.bestOf((node.children ?? []).filter((child) => this.isFresh(child)));
  }

  private mostPromising(rest: readonly Candidate<State, Step>[]): Candidate<State, Step> {
    return rest.reduce((best, one) => {
      const heavier = this.weightOf(one.id) - this.weightOf(best.id);
      return heavier > 0 || (heavier === 0 && compareCost(one.promise, best.promise) < 0) ? one : best;
    });
  }

  private ask(
    node: SearchNode<State, Step>,
    candidate: Candidate<State, Step>,
  ): SearchNode<State, Step> | undefined {
    const rest = this.host.restOf(node);
    rest.splice(rest.indexOf(candidate), 1);
    const made = this.host.ask(node, candidate);
    if (made === undefined) {
      rest.unshift(candidate);
      this.over = true;
      return undefined;
    }
    if (made.length === 0) this.barren.set(node, [...(this.barren.get(node) ?? []), candidate.id]);
    return this.bestOf(made.filter((child) => this.isFresh(child)));
  }

  /** Whether a node waits and none of its candidates was asked. */
  private isFresh(node: SearchNode<State, Step>): boolean {
    return node.status === 'open' && node.rest === undefined && !this.host.isHopeless(node);
  }

  private bestOf(nodes: readonly SearchNode<State, Step>[]): SearchNode<State, Step> | undefined {
    return nodes.reduce<SearchNode<State, Step> | undefined>((best, one) => {
      if (best === undefined) return one;
      const heavier = this.weightOf(one.candidate) - this.weightOf(best.candidate);
      return heavier > 0 || (heavier === 0 && compareCost(one.f, best.f) < 0) ? one : best;
    }, undefined);
  }

  /** From a state with nothing left: where those that are stuck in it could still come, or the deepest with something left. */
  private backjump(end: SearchNode<State, Step>): SearchNode<State, Step> | undefined {
    this.jumps += 1;
    const stuck = this.barren.get(end) ?? [];
    stuck.forEach((candidate) => this.blame(candidate));
    let highest: SearchNode<State, Step> | undefined;
    for (const candidate of stuck.slice(0, MOST_STUCK)) {
      const found = this.deepestFor(candidate, end);
      if (this.over) return undefined;
      if (found !== undefined && (highest === undefined || found.layer < highest.layer)) highest = found;
    }
    if (highest !== undefined && this.isAcceptedSoFar(highest)) return highest;
    return this.deepestLeft(end);
  }

  /** The follower by a candidate of the deepest state above `end` in which it has one, were it so that it has none below it. */
  private deepestFor(candidate: number, end: SearchNode<State, Step>): SearchNode<State, Step> | undefined {
    const path: SearchNode<State, Step>[] = [];
    for (let at = end.parent; at !== undefined; at = at.parent) path.push(at);
    path.reverse();
    let found: SearchNode<State, Step> | undefined;
    for (let low = 0, high = path.length; low < high;) {
      const middle = (low + high) >> 1;
      const probed = this.probe(path[middle]!, candidate);
      if (this.over) return undefined;
      if (probed === 'none') high = middle;
      else low = middle + 1;
      if (typeof probed !== 'string') found = probed;
    }
    return found;
  }

  private probe(node: SearchNode<State, Step>, id: number): Probed<State, Step> {
    const candidate = node.status === 'open' && this.host.restOf(node).find((one) => one.id === id);
    if (candidate) return this.ask(node, candidate) ?? 'none';
    const made = (node.children ?? []).filter((child) => child.candidate === id);
    if (made.length === 0) return this.barren.get(node)?.includes(id) === true ? 'none' : 'not-yet';
    return this.bestOf(made.filter((child) => this.isFresh(child))) ?? 'none';
  }

  /** The deepest state of a path, its end counted, with a candidate or a follower left. */
  private deepestLeft(end: SearchNode<State, Step>): SearchNode<State, Step> | undefined {
    for (let at: SearchNode<State, Step> | undefined = end; at !== undefined; at = at.parent) {
      if (at.status === 'open' && !isFinished(at) && at.layer < this.host.layers) return at;
      if (at.status !== 'dead' && at.children?.some((child) => this.isFresh(child)) === true) return at;
    }
    return undefined;
  }
}

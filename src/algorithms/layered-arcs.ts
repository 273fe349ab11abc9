import { has, intersects } from '../base/part-set.js';
import type { Precedence } from './precedence.js';

/**
 * Which node may follow which at which position of an order of n nodes: node i at position p (from 0) may be followed
 * by the nodes `to[start[p * n + i]]` up to before `to[start[p * n + i + 1]]` at position p + 1, in ascending order.
 */
export interface LayeredArcs {
  readonly n: number;
  readonly start: Int32Array;
  readonly to: Uint16Array;
}

/** First and last position at which each node can stand; later than all and -1 where it cannot stand at all. */
export interface Windows {
  readonly earliest: Int32Array;
  readonly latest: Int32Array;
}

export function windowsOf({ n, start, to }: LayeredArcs): Windows {
  const earliest = new Int32Array(n).fill(n);
  const latest = new Int32Array(n).fill(-1);
  const note = (p: number, i: number): void => {
    if (p < earliest[i]!) earliest[i] = p;
    if (p > latest[i]!) latest[i] = p;
  };
  for (let spot = 0; spot < n * n; spot += 1) {
    if (start[spot] === start[spot + 1]) continue;
    const p = Math.floor(spot / n);
    note(p, spot % n);
    for (let a = start[spot]!; a < start[spot + 1]!; a += 1) note(p + 1, to[a]!);
  }
  return { earliest, latest };
}

/** Keep an arc from node i at position p to node k at position p + 1? */
type ArcChoice = (p: number, i: number, k: number) => boolean;

/**
 * The arcs that a partial order leaves: a node stands after all that come before it and before all that come after it,
 * and two nodes of which one must come before the other follow each other only where none must come between.
 * Node 0 stands first.
 */
export function arcsOf({ before, after }: Precedence): LayeredArcs {
  const n = before.length;
  const earliest = before.map((set) => count(set));
  const latest = after.map((set) => n - 1 - count(set));
  const usable = before.map((set, i) =>
    before.map((ahead, k) => i !== k && !has(set, k) && !intersects(after[i]!, ahead)),
  );
  const stands = (p: number, i: number): boolean => earliest[i]! <= p && p <= latest[i]!;
  return build(n, (p, i, k) => usable[i]![k]! && stands(p, i) && stands(p + 1, k));
}

/** The arcs of `arcs` that are to be kept, without those that then lie on no path from the first to the last position. */
export function reduceArcs(arcs: LayeredArcs, keep: Uint8Array): LayeredArcs {
  const { n, start, to } = arcs;
  const size = n * n;
  const kept = keep.slice();
  const goesOn = new Uint8Array(size).fill(1, size - n);
  for (let at = size - n - 1; at >= 0; at -= 1) {
    const next = (Math.floor(at / n) + 1) * n;
    for (let a = start[at]!; a < start[at + 1]!; a += 1) {
      if (kept[a] === 1 && goesOn[next + to[a]!] === 1) goesOn[at] = 1;
      else kept[a] = 0;
    }
  }
  const reached = new Uint8Array(size);
  reached[0] = 1;
  const starts = new Int32Array(size + 1);
  const targets = new Uint16Array(to.length);
  let count = 0;
  for (let at = 0; at < size; at += 1) {
    const next = (Math.floor(at / n) + 1) * n;
    for (let a = start[at]!; reached[at] === 1 && a < start[at + 1]!; a += 1) {
      if (kept[a] === 0) continue;
      reached[next + to[a]!] = 1;
      targets[count] = to[a]!;
      count += 1;
    }
    starts[at + 1] = count;
  }
  return { n, start: starts, to: targets.slice(0, count) };
}

export const noArcs = (n: number): LayeredArcs => ({
  n,
  start: new Int32Array(n * n + 1),
  to: new Uint16Array(0),
});

function build(n: number, choice: ArcChoice): LayeredArcs {
  const start = new Int32Array(n * n + 1);
  const to: number[] = [];
  for (let p = 0; p < n; p += 1) {
    for (let i = 0; i < n; i += 1) {
      for (let k = 0; p < n - 1 && k < n; k += 1) if (choice(p, i, k)) to.push(k);
      start[p * n + i + 1] = to.length;
    }
  }
  const all = { n, start, to: Uint16Array.from(to) };
  return reduceArcs(all, new Uint8Array(to.length).fill(1));
}

function count(set: Uint32Array): number {
  let sum = 0;
  for (let word of set) for (; word !== 0; word &= word - 1) sum += 1;
  return sum;
}

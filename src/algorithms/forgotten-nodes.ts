import { has } from '../base/part-set.js';
import type { Windows } from './layered-arcs.js';
import type { Precedence } from './precedence.js';
import { aheadSlot, behindSlot, type Slot } from './remembered-nodes.js';

/** What a relaxed path did wrong, and which nodes must remember what for it not to do so. */
interface Lapse {
  readonly slot: Slot;
  readonly nodes: readonly number[];
  times: number;
}

/** Relaxed paths, in the order of nodes and positions that they should have kept. */
interface Seen {
  readonly paths: readonly Int32Array[];
  readonly precedence: Precedence;
  readonly windows: Windows;
}

/**
 * Adds to the slots what would forbid the lapses of relaxed paths that are seen most often for what they cost: a node
 * visited again is to be remembered on the way round, a node that should have come before another one on the way from
 * where it was last known to be ahead.
 *
 * @param most slots of a node
 * @param count lapses to forbid
 * @returns whether a slot was added
 */
export function remember(
  slots: Slot[][],
  { paths, precedence, windows }: Seen,
  { most, count }: { readonly most: number; readonly count: number },
): boolean {
  const lapses = new Map<string, Lapse>();
  for (const path of paths) noteLapses(path, precedence, windows, lapses);
  let added = 0;
  const missing = (lapse: Lapse): number[] => lapse.nodes.filter((i) => !slots[i]!.includes(lapse.slot));
  const ranked = [...lapses.values()]
    .map((lapse) => ({ lapse, worth: lapse.times / Math.max(1, missing(lapse).length) }))
    .sort((a, b) => b.worth - a.worth);
  for (const { lapse } of ranked) {
    const nodes = missing(lapse);
    if (nodes.length === 0 || nodes.some((i) => slots[i]!.length >= most)) continue;
    for (const i of nodes) slots[i]!.push(lapse.slot);
    added += 1;
    if (added >= count) break;
  }
  return added > 0;
}

function noteLapses(
  path: Int32Array,
  { direct, after }: Precedence,
  { earliest }: Windows,
  into: Map<string, Lapse>,
): void {
  const seen = new Int32Array(path.length).fill(-1);
  const note = (slot: Slot, from: number, until: number): void => {
    const nodes = [...new Set(path.subarray(from, until))];
    const key = `${slot}:${nodes.sort((a, b) => a - b).join()}`;
    const known = into.get(key);
    if (known === undefined) into.set(key, { slot, nodes, times: 1 });
    else known.times += 1;
  };
  path.forEach((node, p) => {
    if (seen[node]! >= 0) note(aheadSlot(node), seen[node]! + 1, p);
    for (const m of direct[node]!) {
      if (seen[m]! >= 0) continue;
      let from = p - 1;
      while (from > 0 && !has(after[path[from]!]!, m) && earliest[m]! <= from) from -= 1;
      note(behindSlot(m), from + 1, p);
    }
    seen[node] = p;
  });
}

import { remember } from './forgotten-nodes.js';
import { arcsOf, noArcs, reduceArcs, windowsOf, type LayeredArcs } from './layered-arcs.js';
import * as prices from './node-prices.js';
import type { Precedence } from './precedence.js';
import { arcsBelow, cheapestRelaxed, relaxedPaths, type RelaxedPaths } from './relaxed-path.js';
import { exactMemory, masksByPosition, rememberedNodes, type Slot } from './remembered-nodes.js';

/** Subgradient steps of the first sharpening, when nothing is remembered yet, and of each later one. Our choice. */
const FIRST_STEPS = 60;
const STEPS = { most: 25, least: 8 };
/** Additions that the steps of a later sharpening may take, as far as the least number allows. Our choice. */
const WORK = 2e8;
/** A node remembers at most `first` others to begin with, and `more` more, up to `most`, each time no more fit. Our choice. */
const SLOTS = { first: 4, more: 2, most: 12 };
/** Entries that a table may have, 8 bytes each. Our choice. */
const ENTRIES = 2 ** 23;
/** How far above the best bound a step aims: this share of it at first, and again after something new is remembered. Our choice. */
const LEVEL = { first: 0.02, again: 0.005, up: 1.3, down: 0.6, patience: 10 };
/** Relaxed paths that are looked through for what they should have remembered. Our choice. */
const LOOKED_AT = 12;

type Network = Pick<RelaxedPaths, 'arcs' | 'memory' | 'masks'>;

/**
 * Lower bound on the way from any state of an order of n nodes to its end: the relaxed paths of `relaxed-path.ts` with
 * prices that make the cheapest of them visit each node about once (Held and Karp 1971), and a memory that grows where
 * the cheapest ones go wrong (after Roberti and Mingozzi 2014). All of it is exact arithmetic for whole costs up to
 * 2^51 / (n - 1).
 */
export class PathBound {
  /** No order of interest costs less. */
  root = -Infinity;
  /** Every arc costs a multiple of it. */
  readonly unit: number;
  private network: Network;
  private table: RelaxedPaths;
  private prices: Float64Array;
  /** Of the prices, by bytes of a set. */
  private sums: Float64Array;
  private slots: Slot[][];
  private mostSlots = SLOTS.first;
  private level: number;
  private recent: Int32Array[] = [];
  private readonly scale: prices.PriceScale;
  private readonly words: number;

  constructor(
    private readonly cost: Float64Array,
    private readonly precedence: Precedence,
  ) {
    const n = precedence.before.length;
    const arcs = arcsOf(precedence);
    this.words = (n + 31) >>> 5;
    this.slots = Array.from({ length: n }, () => []);
    this.unit = prices.commonUnit(cost, arcs);
    this.scale = prices.priceScale(cost, arcs);
    this.prices = prices.assignmentPrices(cost, arcs, this.scale);
    this.network = this.networkOf(arcs);
    this.table = this.sweep(this.prices);
    this.sums = prices.sumsByByte(this.prices);
    this.root = this.rootOf(this.table);
    this.level = LEVEL.first * Math.max(1, this.root);
  }

  /** Arcs that may lie on an order of interest. */
  get arcs(): LayeredArcs {
    return this.network.arcs;
  }

  /** At most the cost of every way to the end from node `last` at position p, the nodes of `visited` behind it. */
  bound(visited: Uint32Array, last: number, p: number): number {
    const { table, arcs } = this;
    const place = table.at[p * arcs.n + last]!;
    if (place < 0) return Infinity;
    const toEnd = table.toEnd[place + exactMemory(this.slots[last]!, visited)]!;
    if (toEnd === Infinity) return Infinity;
    const least = toEnd - prices.sumOutside(this.sums, visited, this.words);
    return Math.max(0, Math.ceil(least / this.unit) * this.unit);
  }

  /**
   * Only orders cheaper than the cutoff are of interest from now on. Takes arcs away that lie on none of them, remembers
   * more and improves the prices; may be called again with the same cutoff to go on.
   */
  sharpen(cutoff: number): void {
    const target = (Math.ceil(cutoff / this.unit) - 1) * this.unit;
    this.reduce(target);
    const first = this.recent.length === 0;
    if (this.root > target) return;
    if (!first) this.grow();
    const steps = Math.max(STEPS.least, Math.min(STEPS.most, Math.floor(WORK / this.additions())));
    this.ascend(first ? FIRST_STEPS : steps, cutoff);
    this.reduce(target);
  }

  private networkOf(arcs: LayeredArcs): Network {
    const { slots, precedence } = this;
    return {
      arcs,
      memory: rememberedNodes(slots, precedence),
      masks: masksByPosition(slots, windowsOf(arcs)),
    };
  }

  private sweep(of: Float64Array, into?: Float64Array): RelaxedPaths {
    return relaxedPaths(this.cost, { ...this.network, prices: of }, into);
  }

  private rootOf({ at, toEnd, prices: of }: RelaxedPaths): number {
    return at[0]! < 0 ? Infinity : toEnd[at[0]!]! - prices.sumOf(of);
  }

  /** Works the table out again for the best prices. */
  private settle(): void {
    this.table = this.sweep(this.prices);
    this.sums = prices.sumsByByte(this.prices);
    this.root = this.rootOf(this.table);
  }

  /** Takes away the arcs that lie only on relaxed paths dearer than the target. */
  private reduce(target: number): void {
    if (this.root === Infinity) return;
    const limit = target + prices.sumOf(this.prices) + this.scale.grain / 2;
    this.restrict(reduceArcs(this.arcs, arcsBelow(this.cost, this.table, limit)));
  }

  private restrict(arcs: LayeredArcs): void {
    if (arcs.to.length === this.arcs.to.length) return;
    this.network = { ...this.network, arcs, masks: masksByPosition(this.slots, windowsOf(arcs)) };
    this.settle();
  }

  /** Steps from the best prices towards a level above the best bound, which is lowered when it is not reached. */
  private ascend(steps: number, cutoff: number): void {
    const direction = new Float64Array(this.arcs.n);
    let at = this.prices;
    let spare: Float64Array | undefined;
    for (let step = 0, idle = 0; step < steps && this.root < cutoff; step += 1) {
      const table = this.sweep(at, spare);
      spare = table.toEnd;
      const value = this.rootOf(table);
      const path = cheapestRelaxed(this.cost, table);
      if (path === undefined) return this.restrict(noArcs(this.arcs.n));
      this.recent = [...this.recent.slice(1 - LOOKED_AT), path];
      if (value > this.root) {
        if (value > this.root + this.level / 10) this.level *= LEVEL.up;
        [this.root, this.prices, idle] = [value, at, 0];
      } else if ((idle += 1) % LEVEL.patience === 0) this.level *= LEVEL.down;
      const length = prices.turn(direction, path);
      if (length === 0) break;
      const aim = Math.min(this.root + this.level, cutoff) - value;
      at = prices.moved(at, direction, aim / length, this.scale);
    }
    this.settle();
  }

  /** Lets relaxed paths remember more, where there is room for it. */
  private grow(): void {
    const now = cheapestRelaxed(this.cost, this.table);
    if (now === undefined) return;
    const slots = this.slots.map((own) => [...own]);
    const seen = { paths: [...this.recent, now], precedence: this.precedence, windows: windowsOf(this.arcs) };
    const count = Math.ceil(this.arcs.n / 5);
    for (; !remember(slots, seen, { most: this.mostSlots, count }); this.mostSlots += SLOTS.more)
      if (this.mostSlots >= SLOTS.most) return;
    if (entries(this.arcs, slots) > ENTRIES) return;
    this.slots = slots;
    this.recent = [now];
    this.level = Math.max(this.level, LEVEL.again * this.root);
    this.network = this.networkOf(this.arcs);
    this.settle();
  }

  /** Of one sweep. */
  private additions(): number {
    const { n, start } = this.arcs;
    let sum = 0;
    for (let spot = 0; spot < n * n; spot += 1)
      sum += (start[spot + 1]! - start[spot]!) * 2 ** this.slots[spot % n]!.length;
    return sum;
  }
}

function entries({ n, start }: LayeredArcs, slots: readonly (readonly Slot[])[]): number {
  let sum = 0;
  for (let spot = 0; spot < n * n; spot += 1)
    if (start[spot + 1]! > start[spot]!) sum += 2 ** slots[spot % n]!.length;
  return sum;
}

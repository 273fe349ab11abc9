import type { StateRow } from './packed-problem.js';
import { hashOfState } from './state-hash.js';

/** No node. */
export const NONE = -1;

/**
 * What became of a node. `FREE` is a slot without one; `OPEN` waits to be expanded; `CLOSED` has been expanded and still
 * stands for its state; `GONE` is left for good and waits for its list to let go of it.
 */
export const FREE = 0;
export const OPEN = 1;
export const CLOSED = 2;
export const GONE = 3;

const FIRST_SLOTS = 1 << 10;
/** Lists of nodes hold 32-bit numbers, double when full and halve when a quarter full; the table doubles. */
const LIST_BYTES = 16;
const TABLE_BYTES = 8;

export interface NodeShape {
  /** Words of a state. */
  readonly words: number;
  /** Nodes of a layer that agree in this many first words are found together: those that can be compared. */
  readonly groupWords: number;
  readonly terms: number;
}

/** What one node takes: its slot, its share of the table, its place in a list. */
export const bytesPerNode = ({ words, terms }: NodeShape): number =>
  4 * words + 16 * terms + 7 * 4 + 1 + LIST_BYTES + TABLE_BYTES;

/**
 * Nodes of a search in typed arrays that double when they are full, up to `most` slots; slots that were freed are used
 * again. A table with chains finds the nodes of a layer whose first `groupWords` words are equal. The arrays are replaced
 * when they grow: read them through the store each time.
 */
export class NodeStore {
  states: StateRow;
  /** Cost of the path, a row of `terms` a node. */
  g: Float64Array;
  /** No completion of the path costs less. */
  f: Float64Array;
  /** The path to the state before, as a place in a `PathTrail`. */
  from: Int32Array;
  /** The move that led here. */
  move: Int32Array;
  layer: Int32Array;
  /** When it was made; settles ties. */
  made: Uint32Array;
  /** How often the problem had been sharpened when the bound was worked out. */
  stamp: Int32Array;
  status: Uint8Array;
  private hash: Int32Array;
  /** The next node of the chain, or of the free slots. */
  private next: Int32Array;
  private heads: Int32Array;
  private freeHead = NONE;
  private touched = 0;
  private living = 0;
  private limit: number;

  /** @param most slots, at most; fewer where the machine has no room for them */
  constructor(
    readonly shape: NodeShape,
    most: number,
  ) {
    this.limit = Math.min(most, 2 ** 30);
    const slots = Math.min(FIRST_SLOTS, this.limit);
    this.states = new Uint32Array(slots * shape.words);
    this.g = new Float64Array(slots * shape.terms);
    this.f = new Float64Array(slots * shape.terms);
    this.from = new Int32Array(slots);
    this.move = new Int32Array(slots);
    this.layer = new Int32Array(slots);
    this.made = new Uint32Array(slots);
    this.stamp = new Int32Array(slots);
    this.status = new Uint8Array(slots);
    this.hash = new Int32Array(slots);
    this.next = new Int32Array(slots);
    this.heads = new Int32Array(powerOfTwo(slots)).fill(NONE);
  }

  /** Slots that hold a node. */
  get size(): number {
    return this.living;
  }

  /** Slots up to here have held a node: where a sweep over all nodes ends. */
  get end(): number {
    return this.touched;
  }

  get most(): number {
    return this.limit;
  }

  /** Of the arrays as they are now, the lists of nodes as if each held all of them. */
  get bytes(): number {
    return bytesPerNode(this.shape) * this.status.length;
  }

  /** Makes sure that so many nodes can be added; false when there is no room for them. */
  hasRoom(nodes: number): boolean {
    while (this.status.length - this.living < nodes)
      if (this.status.length >= this.limit || !this.grow()) return false;
    return true;
  }

  /** Takes a slot for a state, open and found in the table; its other fields are the caller's to fill. Only where there is room. */
  add(state: StateRow, layer: number, hash: number): number {
    let node = this.freeHead;
    if (node === NONE) {
      node = this.touched;
      this.touched += 1;
    } else this.freeHead = this.next[node]!;
    const { words } = this.shape;
    for (let i = 0, at = node * words; i < words; i += 1) this.states[at + i] = state[i]!;
    this.layer[node] = layer;
    this.status[node] = OPEN;
    this.hash[node] = hash;
    const head = hash & (this.heads.length - 1);
    this.next[node] = this.heads[head]!;
    this.heads[head] = node;
    this.living += 1;
    return node;
  }

  /** The node no longer stands for its state, but keeps its slot. */
  leaveTable(node: number): void {
    const head = this.hash[node]! & (this.heads.length - 1);
    let at = this.heads[head]!;
    if (at === node) {
      this.heads[head] = this.next[node]!;
      return;
    }
    while (at !== NONE && this.next[at] !== node) at = this.next[at]!;
    if (at !== NONE) this.next[at] = this.next[node]!;
  }

  /** Gives the slot of a node back that is in no list and no longer in the table. */
  free(node: number): void {
    this.status[node] = FREE;
    this.next[node] = this.freeHead;
    this.freeHead = node;
    this.living -= 1;
  }

  read(node: number, into: StateRow): void {
    const { words } = this.shape;
    for (let i = 0, at = node * words; i < words; i += 1) into[i] = this.states[at + i]!;
  }

  hashOf(state: StateRow, layer: number): number {
    return hashOfState(state, this.shape.groupWords, layer);
  }

  /** The newest node of the layer that can be compared with the state, or NONE. */
  firstAlike(state: StateRow, layer: number, hash: number): number {
    return this.alike(this.heads[hash & (this.heads.length - 1)]!, state, layer, hash);
  }

  nextAlike(node: number, state: StateRow, layer: number, hash: number): number {
    return this.alike(this.next[node]!, state, layer, hash);
  }

  /** Whether the words of a node from `from` up to `to` equal those of a state. */
  agrees(node: number, state: StateRow, from: number, to: number): boolean {
    const at = node * this.shape.words;
    for (let i = from; i < to; i += 1) if (this.states[at + i] !== state[i]) return false;
    return true;
  }

  private alike(start: number, state: StateRow, layer: number, hash: number): number {
    let node = start;
    while (node !== NONE) {
      if (
        this.hash[node] === hash &&
        this.layer[node] === layer &&
        this.agrees(node, state, 0, this.shape.groupWords)
      )
        return node;
      node = this.next[node]!;
    }
    return NONE;
  }

  /** Doubles the arrays; false where the machine has no room for them, and then never again. */
  private grow(): boolean {
    const slots = Math.min(2 * this.status.length, this.limit);
    const { words, terms } = this.shape;
    try {
      this.states = enlarged(this.states, new Uint32Array(slots * words));
      this.g = enlarged(this.g, new Float64Array(slots * terms));
      this.f = enlarged(this.f, new Float64Array(slots * terms));
      this.from = enlarged(this.from, new Int32Array(slots));
      this.move = enlarged(this.move, new Int32Array(slots));
      this.layer = enlarged(this.layer, new Int32Array(slots));
      this.made = enlarged(this.made, new Uint32Array(slots));
      this.stamp = enlarged(this.stamp, new Int32Array(slots));
      this.hash = enlarged(this.hash, new Int32Array(slots));
      this.next = enlarged(this.next, new Int32Array(slots));
      if (powerOfTwo(slots) > this.heads.length) this.rehash(powerOfTwo(slots));
      this.status = enlarged(this.status, new Uint8Array(slots));
      return true;
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      this.limit = this.status.length;
      return false;
    }
  }

  /** Chains keep their order, so that what is found first does not depend on when the table grew. */
  private rehash(size: number): void {
    const heads = new Int32Array(size).fill(NONE);
    const tails = new Int32Array(size).fill(NONE);
    for (let chain = 0; chain < this.heads.length; chain += 1) {
      for (let node = this.heads[chain]!; node !== NONE;) {
        const following = this.next[node]!;
        const head = this.hash[node]! & (size - 1);
        if (tails[head] === NONE) heads[head] = node;
        else this.next[tails[head]!] = node;
        tails[head] = node;
        this.next[node] = NONE;
        node = following;
      }
    }
    this.heads = heads;
  }
}

function enlarged<A extends Uint32Array | Int32Array | Float64Array | Uint8Array>(from: A, into: A): A {
  into.set(from);
  return into;
}

function powerOfTwo(least: number): number {
  let size = 16;
  while (size < least) size *= 2;
  return size;
}

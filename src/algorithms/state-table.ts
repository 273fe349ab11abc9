const FIRST_SLOTS = 1 << 10;
const FREE = -1;

/**
 * Different vectors of small whole numbers, numbered in the order in which they came: open addressing over typed
 * arrays, so that millions of states take little room and no text keys are made.
 */
export class StateTable {
  private slots = new Int32Array(FIRST_SLOTS).fill(FREE);
  private vectors: Int32Array;
  private count = 0;

  constructor(private readonly width: number) {
    this.vectors = new Int32Array((FIRST_SLOTS / 2) * width);
  }

  get size(): number {
    return this.count;
  }

  /** True when the vector was not there yet. */
  add(vector: ArrayLike<number>): boolean {
    if (2 * (this.count + 1) > this.slots.length) this.grow();
    const slot = this.slotOf(vector);
    if (this.slots[slot] !== FREE) return false;
    this.slots[slot] = this.count;
    for (let i = 0, at = this.count * this.width; i < this.width; i += 1) this.vectors[at + i] = vector[i]!;
    this.count += 1;
    return true;
  }

  read(index: number, into: Int32Array): void {
    for (let i = 0, at = index * this.width; i < this.width; i += 1) into[i] = this.vectors[at + i]!;
  }

  /** Where the vector is, or may be put. */
  private slotOf(vector: ArrayLike<number>): number {
    const mask = this.slots.length - 1;
    let slot = hashOf(vector, this.width) & mask;
    for (let index = this.slots[slot]!; index !== FREE; index = this.slots[slot]!) {
      if (this.holds(index, vector)) return slot;
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  private holds(index: number, vector: ArrayLike<number>): boolean {
    for (let i = 0, at = index * this.width; i < this.width; i += 1)
      if (this.vectors[at + i] !== vector[i]) return false;
    return true;
  }

  private grow(): void {
    const vectors = new Int32Array(2 * this.vectors.length);
    vectors.set(this.vectors);
    this.vectors = vectors;
    this.slots = new Int32Array(2 * this.slots.length).fill(FREE);
    const vector = new Int32Array(this.width);
    for (let index = 0; index < this.count; index += 1) {
      this.read(index, vector);
      this.slots[this.slotOf(vector)] = index;
    }
  }
}

/** Multiplicative mixing of every number, the high bits folded down at the end. */
function hashOf(vector: ArrayLike<number>, width: number): number {
  let hash = 0x811c9dc5 | 0;
  for (let i = 0; i < width; i += 1) hash = Math.imul(hash ^ vector[i]!, 0x9e3779b1);
  hash ^= hash >>> 15;
  hash = Math.imul(hash, 0x85ebca6b);
  return (hash ^ (hash >>> 13)) >>> 0;
}

const FIRST_SLOTS = 1 << 8;
/** Of what is not known: no sequence is that long. */
const NO_LIMIT = 255;

/** What is said of a set of parts in place and a gripper that can take no other. */
export type Known = 'enough' | 'too few' | 'unknown';

/**
 * Which numbers of mountings are enough from where: for a set of parts in place and a gripper on the arm, the most that was
 * too few and the least that was enough. A table by open addressing; when it is full, all is forgotten, which costs time
 * and changes no answer.
 */
export class SequenceMemory {
  private slots = FIRST_SLOTS;
  private count = 0;
  private keys: Uint32Array;
  /** One more than the most mountings that were too few; 0 marks a free slot. */
  private least = new Uint8Array(FIRST_SLOTS);
  private enough = new Uint8Array(FIRST_SLOTS);

  /**
   * @param words of a set of parts
   * @param most slots that the table may have, a power of two
   */
  constructor(
    private readonly words: number,
    private readonly most: number,
  ) {
    this.keys = new Uint32Array(FIRST_SLOTS * (words + 1));
  }

  /** `row` begins with the set. */
  ask(row: Uint32Array, gripper: number, mountings: number): Known {
    const slot = this.slotOf(row, gripper);
    if (this.least[slot] === 0) return 'unknown';
    if (this.enough[slot]! <= mountings) return 'enough';
    return this.least[slot]! > mountings ? 'too few' : 'unknown';
  }

  tell(row: Uint32Array, gripper: number, mountings: number, enough: boolean): void {
    if (2 * this.count >= this.slots) this.makeRoom();
    const slot = this.slotOf(row, gripper);
    if (this.least[slot] === 0) {
      this.count += 1;
      this.put(slot, row, gripper);
      // What can take no other part needs one more mounting at least.
      this.least[slot] = 1;
      this.enough[slot] = NO_LIMIT;
    }
    if (enough) this.enough[slot] = mountings;
    else this.least[slot] = mountings + 1;
  }

  private put(slot: number, row: Uint32Array, gripper: number): void {
    const at = slot * (this.words + 1);
    for (let i = 0; i < this.words; i += 1) this.keys[at + i] = row[i]!;
    this.keys[at + this.words] = gripper;
  }

  /** Where the set and the gripper are, or may be put. */
  private slotOf(row: Uint32Array, gripper: number): number {
    const { words, keys, least } = this;
    let hash = gripper + 1;
    for (let i = 0; i < words; i += 1) hash = Math.imul(hash ^ row[i]!, 0x9e3779b1) ^ (hash >>> 15);
    hash ^= hash >>> 16;
    for (let slot = hash & (this.slots - 1); ; slot = (slot + 1) & (this.slots - 1)) {
      if (least[slot] === 0) return slot;
      const at = slot * (words + 1);
      let same = keys[at + words] === gripper;
      for (let i = 0; i < words && same; i += 1) same = keys[at + i] === row[i];
      if (same) return slot;
    }
  }

  private makeRoom(): void {
    const { keys, least, enough, slots, words } = this;
    const forget = 2 * slots > this.most;
    if (!forget) this.slots = 2 * slots;
    this.keys = new Uint32Array(this.slots * (words + 1));
    this.least = new Uint8Array(this.slots);
    this.enough = new Uint8Array(this.slots);
    if (forget) this.count = 0;
    else
      for (let slot = 0; slot < slots; slot += 1) {
        if (least[slot] === 0) continue;
        const row = keys.subarray(slot * (words + 1), (slot + 1) * (words + 1));
        const to = this.slotOf(row, row[words]!);
        this.put(to, row, row[words]!);
        this.least[to] = least[slot]!;
        this.enough[to] = enough[slot]!;
      }
  }
}

/** First in, first out, each number at most once at a time. */
export class NumberQueue {
  private readonly ring: Int32Array;
  private readonly waiting: Uint8Array;
  private at = 0;
  private count = 0;

  constructor(most: number) {
    this.ring = new Int32Array(most);
    this.waiting = new Uint8Array(most);
  }

  push(value: number): void {
    if (this.waiting[value] === 1) return;
    this.waiting[value] = 1;
    let place = this.at + this.count;
    if (place >= this.ring.length) place -= this.ring.length;
    this.ring[place] = value;
    this.count += 1;
  }

  /** -1 when empty. */
  shift(): number {
    if (this.count === 0) return -1;
    const value = this.ring[this.at]!;
    this.at += 1;
    if (this.at === this.ring.length) this.at = 0;
    this.count -= 1;
    this.waiting[value] = 0;
    return value;
  }

  clear(): void {
    while (this.count > 0) this.shift();
  }
}

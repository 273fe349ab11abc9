/** Sizes are changed after as many repairs as fit or do not. Our choice. */
const FIRST = 6;

/**
 * How many items a kind of repair frees: more when it was exhausted on a quarter of its steps, fewer when
 * they did not suffice.
 */
export class RepairSize {
  private size: number;

  constructor(private readonly most: number) {
    this.size = Math.min(FIRST, most);
  }

  get items(): number {
    return this.size;
  }

  learn(exhausted: boolean, steps: number, limit: number): void {
    if (!exhausted) this.size = Math.max(Math.min(2, this.most), this.size - 1);
    else if (4 * steps <= limit) this.size = Math.min(this.most, this.size + 1);
  }
}

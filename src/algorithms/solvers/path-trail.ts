const FIRST_PLACES = 1 << 10;

/** The trail of a path without moves. */
export const NO_TRAIL = -1;

/**
 * Paths as links: each place names the place before it and the move that led on from there. A place is made after the
 * one before it, so that the trail can be compacted in one sweep. Eight bytes a place, so that a state that was expanded
 * needs no more than this to be part of a path.
 */
export class PathTrail {
  private before: Int32Array;
  private moves: Int32Array;
  private count = 0;

  /** @param most places, at most; `compact` when there are that many */
  constructor(readonly most: number) {
    const places = Math.min(FIRST_PLACES, most);
    this.before = new Int32Array(places);
    this.moves = new Int32Array(places);
  }

  get bytes(): number {
    return 8 * this.before.length;
  }

  get size(): number {
    return this.count;
  }

  get full(): boolean {
    return this.count >= this.most;
  }

  /** One move more than the trail `before`; only while the trail is not full. */
  add(before: number, move: number): number {
    if (this.count === this.before.length) this.grow();
    this.before[this.count] = before;
    this.moves[this.count] = move;
    this.count += 1;
    return this.count - 1;
  }

  /** All moves up to a place, first move first. */
  movesTo(place: number): number[] {
    const moves: number[] = [];
    for (let at = place; at !== NO_TRAIL; at = this.before[at]!) moves.push(this.moves[at]!);
    return moves.reverse();
  }

  /**
   * Forgets the places that lie on the way to none of the `kept` ones.
   *
   * @returns the new number of each place; meaningless for those forgotten
   */
  compact(kept: Int32Array): Int32Array {
    const renumbered = new Int32Array(this.count);
    for (const place of kept) if (place !== NO_TRAIL) renumbered[place] = 1;
    for (let at = this.count - 1; at >= 0; at -= 1)
      if (renumbered[at] === 1 && this.before[at] !== NO_TRAIL) renumbered[this.before[at]!] = 1;
    let next = 0;
    for (let at = 0; at < this.count; at += 1) {
      if (renumbered[at] !== 1) continue;
      const before = this.before[at]!;
      this.before[next] = before === NO_TRAIL ? NO_TRAIL : renumbered[before]!;
      this.moves[next] = this.moves[at]!;
      renumbered[at] = next;
      next += 1;
    }
    this.count = next;
    return renumbered;
  }

  private grow(): void {
    const places = Math.min(2 * this.before.length, this.most);
    const before = new Int32Array(places);
    const moves = new Int32Array(places);
    before.set(this.before);
    moves.set(this.moves);
    this.before = before;
    this.moves = moves;
  }
}

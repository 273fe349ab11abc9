/** What an iterator gives, drawn as far as it is asked for and kept, so that it can be gone through again. */
export class Listed<T> implements Iterable<T> {
  private readonly drawn: T[] = [];

  constructor(private readonly source: Iterator<T>) {}

  *[Symbol.iterator](): Iterator<T> {
    for (let i = 0; ; i += 1) {
      if (i >= this.drawn.length) {
        const next = this.source.next();
        if (next.done === true) return;
        this.drawn.push(next.value);
      }
      yield this.drawn[i]!;
    }
  }
}

/**
 * A binary heap: the item that comes first by `compare` is on top. Give `compare` no ties if the order of
 * equal items matters.
 */
export class Heap<Item> {
  private items: Item[] = [];

  constructor(private readonly compare: (a: Item, b: Item) => number) {}

  get size(): number {
    return this.items.length;
  }

  peek(): Item | undefined {
    return this.items[0];
  }

  push(item: Item): void {
    this.items.push(item);
    this.rise(this.items.length - 1);
  }

  pop(): Item | undefined {
    const top = this.items[0];
    const last = this.items.pop();
    if (last !== undefined && this.items.length > 0) {
      this.items[0] = last;
      this.sink(0);
    }
    return top;
  }

  /** Empties the heap and hands back what was in it, in no particular order. */
  drain(): Item[] {
    const all = this.items;
    this.items = [];
    return all;
  }

  private rise(start: number): void {
    const { items, compare } = this;
    const item = items[start]!;
    let at = start;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (compare(items[parent]!, item) <= 0) break;
      items[at] = items[parent]!;
      at = parent;
    }
    items[at] = item;
  }

  private sink(start: number): void {
    const { items, compare } = this;
    const item = items[start]!;
    let at = start;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= items.length) break;
      if (child + 1 < items.length && compare(items[child + 1]!, items[child]!) < 0) child += 1;
      if (compare(item, items[child]!) <= 0) break;
      items[at] = items[child]!;
      at = child;
    }
    items[at] = item;
  }
}

/**
 * Numbers for things, the same for those that say the same: short words for long ones in keys. What a thing says is asked
 * once, so that it must not change.
 */
export class Numbered<T extends object> {
  private readonly known = new WeakMap<T, number>();
  private readonly texts = new Map<string, number>();

  /** `said` is all that counts of a thing, as plain values. */
  constructor(private readonly said: (thing: T) => unknown) {}

  of(thing: T): number {
    const before = this.known.get(thing);
    if (before !== undefined) return before;
    const text = JSON.stringify(this.said(thing));
    const number = this.texts.get(text) ?? this.texts.size;
    this.texts.set(text, number);
    this.known.set(thing, number);
    return number;
  }
}

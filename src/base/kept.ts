/**
 * Answers kept by a text that says all they depend on: each is worked out when it is first asked for. With `keeping`
 * off every question is worked out anew, so that a test can compare; the answers must be the same.
 */
export class Kept<T> {
  private readonly answers = new Map<string, T>();

  constructor(private readonly keeping = true) {}

  get(key: string, workOut: () => T): T {
    if (!this.keeping) return workOut();
    const known = this.answers.get(key);
    if (known !== undefined || this.answers.has(key)) return known!;
    const found = workOut();
    this.answers.set(key, found);
    return found;
  }
}

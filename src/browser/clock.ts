/** The moment that the page shows, seconds from the start of the plan. Whoever shows it listens. */
export class Clock {
  private seconds = 0;
  private readonly listeners: ((seconds: number) => void)[] = [];

  constructor(readonly makespan: number) {}

  get now(): number {
    return this.seconds;
  }

  /** Moments before the start and after the end become those. */
  set(seconds: number): void {
    const within = Math.min(this.makespan, Math.max(0, seconds));
    if (within === this.seconds) return;
    this.seconds = within;
    for (const listener of this.listeners) listener(within);
  }

  /** Called at once, and after every change. */
  listen(listener: (seconds: number) => void): void {
    this.listeners.push(listener);
    listener(this.seconds);
  }
}

/** Goes on as long as it answers true; `seconds` since the frame before. */
export type Motion = (seconds: number) => boolean;

export interface FrameParts {
  /** Draws once; `sharpness`: pixels drawn for each pixel of the page, both ways. */
  readonly draw: (sharpness: number) => void;
  /** Sharpness of a picture that stands still. */
  readonly still: number;
}

/** Sharpness while something moves, from the coarsest. */
const STEPS = [0.5, 0.6, 0.75, 1, 1.5, 2] as const;
/** A frame that takes longer than this makes the next ones coarser, shorter than that finer, milliseconds. */
const [TOO_LONG, SHORT] = [30, 18];
/** How many frames in a row must agree before the sharpness changes. */
const AGREE = 5;
/** How long nothing has changed before the picture is drawn at its sharpest, milliseconds. */
const REST = 180;

/**
 * Draws when something has changed and only then. While things move, the sharpness follows how quick the browser is;
 * when they stand still, it is drawn once more at its best.
 */
export class Frames {
  private readonly motions = new Set<Motion>();
  private changed = false;
  private running = false;
  private blurred = false;
  private last = 0;
  private changedAt = 0;
  private step = 3;
  private votes = 0;

  constructor(private readonly parts: FrameParts) {}

  /** To be called after every change of what is seen. */
  request(): void {
    this.changed = true;
    this.run();
  }

  /** Starts something that goes on by itself. */
  start(motion: Motion): void {
    this.motions.add(motion);
    this.run();
  }

  stop(motion: Motion): void {
    this.motions.delete(motion);
  }

  private run(): void {
    if (this.running) return;
    this.running = true;
    this.last = 0;
    requestAnimationFrame((now) => this.frame(now));
  }

  private frame(now: number): void {
    const passed = this.last === 0 ? 0 : now - this.last;
    for (const motion of [...this.motions]) if (!motion(passed / 1000)) this.motions.delete(motion);
    if (this.changed) {
      if (this.last !== 0) this.vote(passed);
      this.changed = false;
      this.changedAt = now;
      const sharpness = Math.min(this.parts.still, STEPS[this.step]!);
      this.blurred = sharpness < this.parts.still;
      this.parts.draw(sharpness);
    } else if (now - this.changedAt > REST && this.blurred) {
      this.blurred = false;
      this.parts.draw(this.parts.still);
    }
    this.last = now;
    this.running = this.motions.size > 0 || this.changed || this.blurred;
    if (this.running) requestAnimationFrame((next) => this.frame(next));
  }

  private vote(passed: number): void {
    const vote = passed > TOO_LONG ? -1 : passed < SHORT ? 1 : 0;
    this.votes = Math.sign(vote) === Math.sign(this.votes) || this.votes === 0 ? this.votes + vote : vote;
    if (Math.abs(this.votes) < (vote < 0 ? AGREE : 8 * AGREE)) return;
    this.step = Math.min(STEPS.length - 1, Math.max(0, this.step + Math.sign(this.votes)));
    this.votes = 0;
  }
}

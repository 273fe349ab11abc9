import type { Frames, Motion } from './camera/frames.js';
import type { Rig } from './camera/rig.js';
import { between, type View } from './camera/view.js';

/** Seconds. */
const LASTS = 0.35;

/** Brings the camera to a view: smoothly, or at once for who wants less motion. */
export class Flight {
  private motion: Motion | undefined;

  constructor(
    private readonly rig: Rig,
    private readonly frames: Frames,
  ) {}

  to(view: View): void {
    this.end();
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      this.rig.view = view;
      this.frames.request();
      return;
    }
    const from = this.rig.view;
    let passed = 0;
    this.motion = (seconds) => {
      passed += seconds;
      const share = Math.min(1, passed / LASTS);
      this.rig.view = share === 1 ? view : between(from, view, share * share * (3 - 2 * share));
      this.frames.request();
      return share < 1;
    };
    this.frames.start(this.motion);
  }

  /** Where somebody takes the camera over. */
  end(): void {
    if (this.motion) this.frames.stop(this.motion);
    this.motion = undefined;
  }
}

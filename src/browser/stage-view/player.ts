import type { Clock } from '../clock.js';

export const PLAY_WAYS = ['evenly', 'stages', 'steps'] as const;
export type PlayWay = (typeof PLAY_WAYS)[number];
/** Seconds of the plan for each second of play. */
export const SPEEDS = [1, 2, 5, 10, 20, 50] as const;

/** Seconds of the plan that one hop stands for: slower play stays longer at each stage, or step. */
const HOPS = { stages: 20, steps: 8 } as const;

export interface PlayerParts {
  readonly clock: Clock;
  /** The next moment to hop to; undefined at the end. */
  readonly next: Readonly<Record<'stages' | 'steps', () => number | undefined>>;
}

/** Lets the clock run, evenly or by hops. */
export class Player {
  speed = 10;
  way: PlayWay = 'evenly';
  private on = false;
  private waited = 0;
  private readonly listeners: ((playing: boolean) => void)[] = [];

  constructor(private readonly parts: PlayerParts) {}

  get playing(): boolean {
    return this.on;
  }

  /** From the start again where the plan is over. */
  set playing(on: boolean) {
    if (on === this.on) return;
    const { clock } = this.parts;
    if (on && clock.now >= clock.makespan) clock.set(0);
    this.on = on;
    this.waited = 0;
    for (const listener of this.listeners) listener(on);
  }

  /** Called after each start and stop. */
  listen(listener: (playing: boolean) => void): void {
    this.listeners.push(listener);
  }

  /** Lets so many seconds pass; false when the play is over. One function, so that whoever runs it twice is found out. */
  readonly pass = (seconds: number): boolean => {
    if (!this.on) return false;
    const { clock, next } = this.parts;
    if (this.way === 'evenly') clock.set(clock.now + seconds * this.speed);
    else if ((this.waited += seconds * this.speed) >= HOPS[this.way]) {
      this.waited = 0;
      clock.set(next[this.way]() ?? clock.makespan);
    }
    if (clock.now >= clock.makespan) this.playing = false;
    return this.on;
  };
}

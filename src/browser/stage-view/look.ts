import type { ExplodeWay } from './moment/explode.js';
import type { SectionPlane } from './moment/section-plane.js';

export type ArmStyle = 'solid' | 'through' | 'hidden';

/** How the moment is shown, whatever moment it is. */
export interface LookState {
  /** Undefined: nothing is cut away. */
  readonly section: SectionPlane | undefined;
  readonly explodeWay: ExplodeWay;
  /** 0 to 1. */
  readonly exploded: number;
  /** How many times the predicted distortion is drawn; 0: not at all. */
  readonly factor: number;
  readonly arms: ArmStyle;
  readonly fixtures: boolean;
  readonly tacks: boolean;
  readonly names: boolean;
}

/** The look as controls and keys set it; whoever draws listens. */
export class Look {
  private readonly listeners: ((state: LookState) => void)[] = [];

  constructor(private now: LookState) {}

  get state(): LookState {
    return this.now;
  }

  set(change: Partial<LookState>): void {
    this.now = { ...this.now, ...change };
    for (const listener of this.listeners) listener(this.now);
  }

  /** Called after every change. */
  listen(listener: (state: LookState) => void): void {
    this.listeners.push(listener);
  }
}

export const FIRST_LOOK: LookState = {
  section: undefined,
  explodeWay: 'approach',
  exploded: 0,
  factor: 0,
  arms: 'through',
  fixtures: true,
  tacks: true,
  names: true,
};

import type { Step } from '../model/plan.js';

/** The time from taking a part to letting go of it, by indices of steps. */
export interface Carrying {
  readonly part: string;
  readonly grip: number;
  /** The move that brings it to its final place, or the grip that takes hold of it there; Infinity for neither. */
  readonly inPlace: number;
  /** Whether it is brought to its place, not taken hold of there. */
  readonly brought: boolean;
  /** Letting go or setting down; Infinity for never. */
  readonly release: number;
}

/** What is done with a part only when it is in its final place. */
const IN_PLACE: readonly Step['do'][] = ['seat', 'clamp', 'hold', 'cool', 'proof-pull', 'let-go'];

/** All that a program takes hold of, in order. */
export function carryings(steps: readonly Step[]): readonly Carrying[] {
  const found: Carrying[] = [];
  let open: Carrying | undefined;
  let lastMove = -1;
  steps.forEach((step, i) => {
    if (step.do === 'move') lastMove = i;
    if (step.do === 'grip') {
      if (open !== undefined) found.push(open);
      open = { part: step.part, grip: i, inPlace: Infinity, brought: false, release: Infinity };
    }
    if (open === undefined || !('part' in step) || step.part !== open.part) return;
    if (open.inPlace === Infinity && IN_PLACE.includes(step.do)) {
      const brought = lastMove > open.grip;
      open = { ...open, brought, inPlace: brought ? lastMove : open.grip };
    }
    if (step.do === 'let-go' || step.do === 'set-down') {
      found.push({ ...open, release: i });
      open = undefined;
    }
  });
  return open === undefined ? found : [...found, open];
}

import type { BareStep } from './bare-step.js';

/** Whether a robot is in the work zone when a step begins, and when it ends. */
export interface InWorkZone {
  readonly before: boolean;
  readonly after: boolean;
}

/** For each step of a program whether its robot is in the work zone; a program starts outside of it. */
export function inWorkZone(steps: readonly BareStep[]): readonly InWorkZone[] {
  let inside = false;
  return steps.map((step) => {
    const before = inside;
    if ((step.do === 'enter' || step.do === 'leave') && step.zone === 'work') inside = step.do === 'enter';
    return { before, after: inside };
  });
}

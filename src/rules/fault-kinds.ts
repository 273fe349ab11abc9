import type { FaultKind, FaultReaction } from '../model/plan-safety.js';
import type { Step } from '../model/plan.js';

/** A fault that strikes a step, and what is done then. */
export interface Strike {
  readonly fault: FaultKind;
  readonly reaction: FaultReaction;
  /** `after`: it shows once the step is done, before the next one. */
  readonly when: 'during' | 'after';
}

const HOLD_AND_CALL: FaultReaction = {
  ...{ stop: 'all', arcs: 'all-out', torch: 'stays' },
  ...{ person: true, then: 'wait-for-person' },
};
/** Nothing is at stake elsewhere: a torch may end its tacks, and then waits. */
const STOP_ALONE: FaultReaction = { ...HOLD_AND_CALL, stop: 'one', arcs: 'burn-on', torch: 'goes-on' };
const GO_ON: FaultReaction = {
  ...{ stop: 'none', arcs: 'burn-on', torch: 'goes-on' },
  ...{ person: false, then: 'go-on' },
};
/** The torch was drawn back from the tack before it was judged. */
const DRAWN_BACK: FaultReaction = { ...HOLD_AND_CALL, torch: 'drawn-back' };

/** What is done of each kind; a bad tack with another site is repeated. */
export const REACTIONS: Readonly<Record<FaultKind, FaultReaction>> = {
  'signal-late': GO_ON,
  'signal-too-late': HOLD_AND_CALL,
  'signal-lost': HOLD_AND_CALL,
  'tack-bad': DRAWN_BACK,
  'second-tack-bad': DRAWN_BACK,
  'part-missing': STOP_ALONE,
  'grip-unconfirmed': STOP_ALONE,
  'seat-short': HOLD_AND_CALL,
  'pull-moves': HOLD_AND_CALL,
  'wire-stuck': HOLD_AND_CALL,
  'person-silent': STOP_ALONE,
  'robot-stopped': { ...STOP_ALONE, arcs: 'own-out', torch: 'stays' },
  'power-lost': HOLD_AND_CALL,
};

/** In the order of the table. */
export const FAULT_KINDS = Object.keys(REACTIONS) as readonly FaultKind[];

/** Steps of their own that look for a part, or for a wire that is stuck; where a program has them, they show it. */
const PART_PRESENT = 'part-present';
const WIRE_CHECK = 'wire-check';

const strike = (fault: FaultKind, when: Strike['when'] = 'during'): Strike => ({
  fault,
  reaction: REACTIONS[fault],
  when,
});

const has = (steps: readonly Step[], kind: string): boolean => steps.some((step) => step.do === kind);

/** Whether a step is the first grip of its part in its stage by this robot, at the infeed. */
const isFirstGrip = (steps: readonly Step[], i: number): boolean => {
  const step = steps[i]!;
  const isBefore = (one: Step): boolean => one.do === 'grip' && step.do === 'grip' && one.part === step.part;
  return step.do === 'grip' && !steps.slice(0, i).some(isBefore);
};

function ownStrikes(steps: readonly Step[], i: number): readonly Strike[] {
  const step = steps[i]!;
  switch (step.do) {
    case 'await':
      return [strike('signal-late'), strike('signal-too-late'), strike('signal-lost')];
    case 'accept': {
      if (step.rework.length === 0) return [strike('tack-bad')];
      const repeat: FaultReaction = { ...GO_ON, then: 'repeat-tack' };
      return [{ ...strike('tack-bad'), reaction: repeat }, strike('second-tack-bad')];
    }
    case 'grip': {
      const missing = !has(steps, PART_PRESENT) && isFirstGrip(steps, i) ? [strike('part-missing')] : [];
      return [...missing, strike('grip-unconfirmed')];
    }
    case 'manual':
      return [strike('person-silent')];
    case 'seat':
      return [strike('seat-short')];
    case 'proof-pull':
      return [strike('pull-moves')];
    case 'tack':
      return has(steps, WIRE_CHECK) ? [] : [strike('wire-stuck', 'after')];
    default:
      if ((step.do as string) === PART_PRESENT) return [strike('part-missing')];
      return (step.do as string) === WIRE_CHECK ? [strike('wire-stuck')] : [];
  }
}

/** All faults that can strike a step of a program, in no order. */
export const strikesAt = (steps: readonly Step[], i: number): readonly Strike[] => [
  ...ownStrikes(steps, i),
  strike('robot-stopped'),
  strike('power-lost'),
];

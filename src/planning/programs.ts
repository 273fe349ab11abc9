import type { StepDraft } from './steps.js';
import type { StageSteps } from './stage-steps.js';

/** A precedence between two robots that the work itself requires: `from` must end before `to` starts. */
export interface Precedence {
  readonly from: ProgramPoint;
  readonly to: ProgramPoint;
  readonly meaning: string;
  readonly guards: string;
}

export interface ProgramPoint {
  readonly robot: 'handler' | 'welder';
  /** Index of a step in that robot's program without signals. */
  readonly index: number;
}

/** Both robots' steps in order, without signals, and what must be signalled. */
export interface RawPrograms {
  readonly handler: readonly StepDraft[];
  readonly welder: readonly StepDraft[];
  readonly precedences: readonly Precedence[];
}

/**
 * Strings the stages together. Required precedences, per stage: what is held is still before the securing tacks; these
 * are laid and the torch is away before it is let go; the handling robot is out of the work zone before the
 * completing tacks; all tacks are laid and the torch is away before the next part comes.
 */
export function stringPrograms(
  stages: readonly {
    readonly part: string;
    /** The earlier part that is held while the newcomer stands by itself. */
    readonly other: string | undefined;
    readonly steps: StageSteps;
  }[],
): RawPrograms {
  const handler: StepDraft[] = [];
  const welder: StepDraft[] = [];
  const precedences: Precedence[] = [];
  let lastTacked: { readonly index: number; readonly part: string } | undefined;
  for (const { part, other, steps } of stages) {
    const held = other ?? part;
    handler.push(...steps.fetch);
    if (lastTacked !== undefined)
      precedences.push({
        from: { robot: 'welder', index: lastTacked.index },
        to: { robot: 'handler', index: handler.length },
        meaning: `all tacks of ${lastTacked.part} laid, torch out of the work zone`,
        guards: `${part} would be brought while the torch is at the weldment`,
      });
    handler.push(...steps.place);
    if (other !== undefined) handler.push(...steps.letGo, ...steps.takeOther);
    if (steps.securing.length > 0) {
      precedences.push({
        from: { robot: 'handler', index: handler.length - 1 },
        to: { robot: 'welder', index: welder.length },
        meaning: `${held} held and still`,
        guards: `the arc would start on ${part} before ${held === part ? 'it' : held} is ${held === part ? 'in place' : 'held'}`,
      });
      welder.push(...steps.securing);
      precedences.push({
        from: { robot: 'welder', index: welder.length - 1 },
        to: { robot: 'handler', index: handler.length },
        meaning: `securing tacks of ${part} laid, torch out of the work zone`,
        guards: `${held} would be let go before it is secured`,
      });
      lastTacked = { index: welder.length - 1, part };
    }
    handler.push(...(other === undefined ? steps.letGo : steps.letGoOther));
    if (steps.completing.length > 0) {
      precedences.push({
        from: { robot: 'handler', index: handler.length - 1 },
        to: { robot: 'welder', index: welder.length },
        meaning: `${held} let go, handling robot out of the work zone`,
        guards: `torch and gripper would meet at ${held}`,
      });
      welder.push(...steps.completing);
      lastTacked = { index: welder.length - 1, part };
    }
  }
  return { handler, welder, precedences };
}

import type { ProgramEvent } from '../algorithms/concurrent-program.js';
import type { GeometricPlan, PlanTack, Step, Zone } from '../model/plan.js';

type Order = 'n' | 'do' | 'stage' | 'handshake' | 'tack' | 'zone' | 'part';

/** What of a step has to do with the order of things: of steps in a plan, and of those that are not filled in yet. */
export type RunStep = {
  [K in Step['do']]: Pick<Extract<Step, { do: K }>, Extract<keyof Extract<Step, { do: K }>, Order>>;
}[Step['do']];

/**
 * A robot program as events without duration: a tack is its arc going on and its arc going off, a let-go or a turn of
 * the table, or the work of a person, its begin and its end, so that what lasts is what lies between two events.
 */
export interface RunEvents {
  readonly events: readonly ProgramEvent[];
  /** First and last event of each step. */
  readonly first: readonly number[];
  readonly last: readonly number[];
}

function eventsOf(step: RunStep): readonly ProgramEvent[] {
  switch (step.do) {
    case 'signal':
      return [{ kind: 'send', signal: step.handshake }];
    case 'await':
      return [{ kind: 'await', signal: step.handshake }];
    case 'tack':
      return [
        { kind: 'do', label: `arc on ${step.tack}` },
        { kind: 'do', label: `arc off ${step.tack}` },
      ];
    case 'turn':
      return [
        { kind: 'do', label: 'turn of the table begins' },
        { kind: 'do', label: 'turn of the table ends' },
      ];
    case 'manual':
      return [
        { kind: 'do', label: `a person begins at ${step.part}` },
        { kind: 'do', label: `the person is done with ${step.part}` },
      ];
    case 'let-go':
      return [
        { kind: 'do', label: `let-go of ${step.part} begins` },
        { kind: 'do', label: `let-go of ${step.part} ends` },
      ];
    default:
      return [{ kind: 'do', label: step.do }];
  }
}

export function runEvents(steps: readonly RunStep[]): RunEvents {
  const events: ProgramEvent[] = [];
  const first: number[] = [];
  const last: number[] = [];
  for (const step of steps) {
    first.push(events.length);
    events.push(...eventsOf(step));
    last.push(events.length - 1);
  }
  return { events, first, last };
}

/** A stay of a robot in a zone, by event numbers; `leave` is Infinity when it never leaves. */
export interface Stay {
  readonly stage: number;
  /** Stage of its last step in the zone. */
  readonly lastStage: number;
  readonly enter: number;
  readonly leave: number;
  /** The part that a handling robot brings or takes hold of, from when it is still in place until it is pulled at or let go. */
  readonly part: string | undefined;
  readonly hold: number | undefined;
  readonly letGo: number | undefined;
}

/** The stays of a robot in a zone, in order. */
export function staysOf(steps: readonly RunStep[], { first, last }: RunEvents, zone: Zone): readonly Stay[] {
  const stays: Stay[] = [];
  let open: Stay | undefined;
  steps.forEach((step, i) => {
    const { stage } = step;
    if (step.do === 'enter' && step.zone === zone) {
      if (open !== undefined) stays.push(open);
      open = {
        ...{ stage, lastStage: stage, enter: last[i]!, leave: Infinity },
        ...{ part: undefined, hold: undefined, letGo: undefined },
      };
      return;
    }
    if (open === undefined) return;
    open = { ...open, lastStage: stage };
    if (step.do === 'hold') open = { ...open, part: step.part, hold: last[i]! };
    else if (step.do === 'proof-pull' || step.do === 'let-go')
      open = { ...open, part: step.part, letGo: open.letGo ?? first[i]! };
    else if (step.do === 'leave' && step.zone === zone) {
      stays.push({ ...open, leave: last[i]! });
      open = undefined;
    }
  });
  return open === undefined ? stays : [...stays, open];
}

/** When the arc of a tack burns: from the event `on` to the event `off` of the welding robot. */
export interface Arc {
  readonly tack: PlanTack;
  /** Place of its stage in the plan's list. */
  readonly stage: number;
  readonly on: number;
  readonly off: number;
}

/** The arcs of the welding robot's program whose tacks are in the plan. */
export function arcsOf(
  plan: GeometricPlan,
  steps: readonly RunStep[],
  { first, last }: RunEvents,
): readonly Arc[] {
  const known = new Map(
    plan.stages.flatMap(({ tacks }, stage) => tacks.map((tack) => [tack.id, { tack, stage }] as const)),
  );
  return steps.flatMap((step, i) => {
    const found = step.do === 'tack' ? known.get(step.tack) : undefined;
    return found === undefined ? [] : [{ ...found, on: first[i]!, off: last[i]! }];
  });
}

/** A turn of the work table: from the event `begin` to the event `end` of the robot that commands it. */
export interface TurnEvents {
  /** Number of the stage before which it is. */
  readonly stage: number;
  readonly begin: number;
  readonly end: number;
}

export const turnsOf = (steps: readonly RunStep[], { first, last }: RunEvents): readonly TurnEvents[] =>
  steps.flatMap(({ do: what, stage }, i) =>
    what === 'turn' ? [{ stage, begin: first[i]!, end: last[i]! }] : [],
  );

/** A person at work: from the event `begin` to the event `end` of the robot in whose program it is. */
export interface ManualEvents {
  readonly stage: number;
  readonly part: string;
  readonly begin: number;
  readonly end: number;
}

export const manualsOf = (steps: readonly RunStep[], { first, last }: RunEvents): readonly ManualEvents[] =>
  steps.flatMap((step, i) =>
    step.do === 'manual' ? [{ stage: step.stage, part: step.part, begin: first[i]!, end: last[i]! }] : [],
  );

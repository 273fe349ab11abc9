import { happensBefore, type HappensBefore } from '../algorithms/happens-before.js';
import type { ArmStep, Replay } from './arm-replay.js';
import { runEvents, type RunEvents, type RunStep } from './run-events.js';

/** Steps of one robot, from one index to another. */
export type Steps = Pick<ArmStep, 'robot' | 'first' | 'last'>;

/**
 * When steps of several robots can be, whatever their speeds. A step lasts from the end of the one before it in its
 * program, so that a robot that waits is where it waits all the while.
 */
export class ArmsInTime {
  private constructor(
    private readonly events: readonly RunEvents[],
    private readonly order: HappensBefore,
    private readonly replays: readonly Replay[],
  ) {}

  /** Undefined when the signals lead to no order, which the rule on handshakes tells. */
  static of(programs: readonly (readonly RunStep[])[], replays: readonly Replay[]): ArmsInTime | undefined {
    const events = programs.map(runEvents);
    const order = happensBefore(events.map((one) => one.events));
    return order.ok ? new ArmsInTime(events, order.value, replays) : undefined;
  }

  /**
   * Whether steps are over before others of another robot begin, in every run. The first step of a program has been on
   * from the beginning; after the last the robot stays where it is.
   */
  surelyBefore(a: Steps, b: Steps): boolean {
    if (b.first === 0 || a.last === this.events[a.robot]!.last.length - 1) return false;
    const [end, begin] = [this.events[a.robot]!.last[a.last]!, this.events[b.robot]!.last[b.first - 1]!];
    return this.order.before({ program: a.robot, event: end }, { program: b.robot, event: begin });
  }

  mayMeet(a: Steps, b: Steps): boolean {
    return a.robot !== b.robot && !this.surelyBefore(a, b) && !this.surelyBefore(b, a);
  }

  /** Indices of the parts that may be in their final places during a step; of its own robot only those that are. */
  inPlace(step: Steps): ReadonlySet<number> {
    const parts = new Set<number>();
    this.replays.forEach(({ brought }, robot) => {
      for (const { part, step: at } of brought) {
        const placing: Steps = { robot, first: at, last: at };
        const later = robot === step.robot ? step.last <= at : this.surelyBefore(step, placing);
        if (!later) parts.add(part);
      }
    });
    return parts;
  }
}

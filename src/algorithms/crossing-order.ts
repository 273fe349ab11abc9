import type { EventRef } from './concurrent-program.js';

/** A wait across programs: the step `from` ends before the step `to` starts; `event` is a step's place in its program. */
export interface Crossing {
  readonly from: EventRef;
  readonly to: EventRef;
}

/** A crossing that stands for some of those that are required, by their places in that list. */
export interface Merged extends Crossing {
  readonly carries: readonly number[];
}

/** Programs of steps with durations, their steps in order, tied together by crossings: an acyclic network. */
export class CrossingOrder {
  private constructor(
    private readonly durations: readonly (readonly number[])[],
    private readonly starts: readonly (readonly number[])[],
    /** Of each step, how many steps of every program are surely over when it is. */
    private readonly clocks: readonly (readonly (readonly number[])[])[],
  ) {}

  /** Undefined when programs would wait for one another for ever. */
  static of(
    durations: readonly (readonly number[])[],
    crossings: readonly Crossing[],
  ): CrossingOrder | undefined {
    const waits = durations.map((steps) => steps.map((): EventRef[] => []));
    for (const { from, to } of crossings) waits[to.program]![to.event]!.push(from);
    const starts = durations.map((): number[] => []);
    const clocks = durations.map((): number[][] => []);
    const next = (program: number): boolean => {
      const event = starts[program]!.length;
      const awaited = waits[program]![event];
      if (awaited === undefined) return false;
      if (awaited.some((from) => clocks[from.program]!.length <= from.event)) return false;
      const known = clocks[program]![event - 1];
      const clock = known ? [...known] : durations.map(() => 0);
      let start = event > 0 ? starts[program]![event - 1]! + durations[program]![event - 1]! : 0;
      for (const from of awaited) {
        start = Math.max(start, starts[from.program]![from.event]! + durations[from.program]![from.event]!);
        clocks[from.program]![from.event]!.forEach((count, p) => (clock[p] = Math.max(clock[p]!, count)));
      }
      clock[program] = event + 1;
      starts[program]!.push(start);
      clocks[program]!.push(clock);
      return true;
    };
    for (let moved = true; moved;) {
      moved = false;
      durations.forEach((_, program) => {
        while (next(program)) moved = true;
      });
    }
    const done = durations.every((steps, program) => starts[program]!.length === steps.length);
    return done ? new CrossingOrder(durations, starts, clocks) : undefined;
  }

  startOf({ program, event }: EventRef): number {
    return this.starts[program]![event]!;
  }

  endOf({ program, event }: EventRef): number {
    return this.starts[program]![event]! + this.durations[program]![event]!;
  }

  get makespan(): number {
    return Math.max(
      0,
      ...this.durations.flatMap(({ length }, program) =>
        length > 0 ? [this.endOf({ program, event: length - 1 })] : [],
      ),
    );
  }

  /** How many steps of another program are surely over when a step starts; none when there is no such step. */
  overBefore({ program, event }: EventRef, other: number): number {
    return this.clocks[program]![event]?.[other] ?? 0;
  }

  /** The first step of another program that surely starts only after a step is over; the number of its steps for none. */
  firstAfter({ program, event }: EventRef, other: number): number {
    const found = this.clocks[other]!.findIndex((clock) => clock[program]! > event);
    return found < 0 ? this.clocks[other]!.length : found;
  }

  /** Whether one step is another or over before it starts, in every run. */
  upTo(a: EventRef, b: EventRef): boolean {
    return this.clocks[b.program]![b.event]![a.program]! > a.event;
  }
}

import type { EventRef, Program } from './concurrent-program.js';
import { ProgramMachine } from './program-machine.js';
import { StateTable } from './state-table.js';

export type { EventRef, Program, ProgramEvent } from './concurrent-program.js';

/**
 * - `ok`: every interleaving ends with all programs done and every signal consumed once;
 * - `deadlock`: some programs wait for ever;
 * - `violated`: a state breaks the invariant;
 * - `signal-fault`: a signal is sent a second time, or sent and never consumed;
 * - `limit`: more states than allowed; nothing is proved.
 */
export type InterleavingVerdict = 'ok' | 'deadlock' | 'violated' | 'signal-fault' | 'limit';

export interface Exploration {
  /** Different states seen. */
  readonly states: number;
  readonly verdict: InterleavingVerdict;
  /** What is wrong, for every verdict but `ok` and `limit`. */
  readonly problem?: string;
  /**
   * A run to the state that is wrong, a shortest one unless events are unseen; for a second send, that send is the
   * last event.
   */
  readonly trace?: readonly EventRef[];
}

export interface ExploreOptions {
  /**
   * Judges a state, given how many events of each program are done; a text says what is wrong with it. The
   * array is reused between calls.
   */
  readonly invariant?: (positions: ArrayLike<number>) => string | undefined;
  /** Most states to visit. */
  readonly limit: number;
  /**
   * Events that the invariant does not see: it says the same before and after one, wherever the other programs are.
   * With it, unseen events happen as soon as they can and only the others are interleaved; every signal must then be
   * sent once and awaited once.
   */
  readonly unseen?: (event: EventRef) => boolean;
}

/**
 * Explores the interleavings of programs that communicate by single-use signals, breadth first over the vectors of
 * positions, which determine the marks of the signals. Deterministic.
 *
 * Without `unseen`, every state is visited. With it, the states in which an unseen event could happen are passed over:
 * a partial-order reduction whose ample sets are single events (Peled 1993; Clarke, Grumberg, Peled 1999, chapter 10).
 * They are sound here because with single-use signals an event that can happen stays possible until it does, whatever
 * the other programs do (no two events ever compete for a mark), events of different programs commute, and no run goes
 * in a circle; so what can be reached and is seen, and every deadlock, is reached in the reduced order too. Throws a
 * RangeError when signals are not single-use.
 */
export function explore(programs: readonly Program[], options: ExploreOptions): Exploration {
  return new Explorer(programs, options).run();
}

interface Wrong {
  readonly verdict: InterleavingVerdict;
  readonly problem: string;
  readonly last?: EventRef;
}

class Explorer {
  private readonly machine: ProgramMachine;
  private readonly table: StateTable;
  /** Of each state, by which state and by the event of which program it was reached. */
  private readonly cameFrom: number[] = [-1];
  private readonly movedBy: number[] = [-1];
  /** By program and event. */
  private readonly unseen: readonly Uint8Array[] | undefined;

  constructor(
    programs: readonly Program[],
    private readonly options: ExploreOptions,
  ) {
    this.machine = new ProgramMachine(programs);
    this.table = new StateTable(programs.length);
    const { unseen } = options;
    if (unseen === undefined) return;
    if (!this.machine.singleUse)
      throw new RangeError('The reduction asks for signals that are sent and awaited once.');
    this.unseen = programs.map((events, program) =>
      Uint8Array.from(events, (_, event) => (unseen({ program, event }) ? 1 : 0)),
    );
  }

  run(): Exploration {
    const { table, machine } = this;
    const positions = new Int32Array(machine.width);
    const next = new Int32Array(machine.width);
    this.settle(positions);
    table.add(positions);
    for (let index = 0; index < table.size; index += 1) {
      if (table.size > this.options.limit) return { states: table.size, verdict: 'limit' };
      table.read(index, positions);
      const wrong = this.judge(positions) ?? this.goOn(index, positions, next);
      if (wrong === undefined) continue;
      const { verdict, problem, last } = wrong;
      const trace = [...this.traceTo(index), ...(last ? [last] : [])];
      return { states: table.size, verdict, problem, trace };
    }
    return { states: table.size, verdict: 'ok' };
  }

  private judge(positions: Int32Array): Wrong | undefined {
    const problem = this.options.invariant?.(positions);
    if (problem !== undefined) return { verdict: 'violated', problem };
    for (let program = 0; program < this.machine.width; program += 1) {
      const again = this.machine.sentAgain(positions, program);
      if (again === undefined) continue;
      const last = { program, event: positions[program]! };
      return { verdict: 'signal-fault', problem: `signal "${again}" is sent a second time`, last };
    }
    return undefined;
  }

  /** Adds what follows a state by one event; wrong is an end at which something is left. */
  private goOn(index: number, positions: Int32Array, next: Int32Array): Wrong | undefined {
    const { machine, table } = this;
    let moved = false;
    for (let program = 0; program < machine.width; program += 1) {
      if (machine.done(positions, program) || !machine.enabled(positions, program)) continue;
      moved = true;
      next.set(positions);
      next[program]! += 1;
      this.settle(next);
      if (!table.add(next)) continue;
      this.cameFrom.push(index);
      this.movedBy.push(program);
    }
    return moved ? undefined : this.judgeEnd(positions);
  }

  /** A state in which nothing can go on: fine only if all is done and no signal is left over. */
  private judgeEnd(positions: Int32Array): Wrong | undefined {
    const waits: string[] = [];
    for (let program = 0; program < this.machine.width; program += 1) {
      const signal = this.machine.waitsFor(positions, program);
      if (signal !== undefined) waits.push(`program ${program} waits for signal "${signal}"`);
    }
    if (waits.length > 0) return { verdict: 'deadlock', problem: waits.join('; ') };
    const { leftOver } = this.machine;
    return leftOver === undefined
      ? undefined
      : { verdict: 'signal-fault', problem: `signal "${leftOver}" is sent and never consumed` };
  }

  /** Lets unseen events happen until none can; notes them in `trace`, if given. */
  private settle(positions: Int32Array, trace?: EventRef[]): void {
    if (this.unseen === undefined) return;
    for (let moved = true; moved;) {
      moved = false;
      for (let program = 0; program < positions.length; program += 1) {
        const unseen = this.unseen[program]!;
        while (unseen[positions[program]!] === 1 && this.machine.enabled(positions, program)) {
          trace?.push({ program, event: positions[program]! });
          positions[program]! += 1;
          moved = true;
        }
      }
    }
  }

  private traceTo(index: number): EventRef[] {
    const moves: number[] = [];
    for (let at = index; this.cameFrom[at]! >= 0; at = this.cameFrom[at]!) moves.push(this.movedBy[at]!);
    const trace: EventRef[] = [];
    const positions = new Int32Array(this.machine.width);
    this.settle(positions, trace);
    for (const program of moves.reverse()) {
      trace.push({ program, event: positions[program]! });
      positions[program]! += 1;
      this.settle(positions, trace);
    }
    return trace;
  }
}

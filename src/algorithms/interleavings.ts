import { signalUses, type EventRef, type Program, type SignalUse } from './concurrent-program.js';

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
  /** A shortest run to the state that is wrong; for a second send, that send is the last event. */
  readonly trace?: readonly EventRef[];
}

export interface ExploreOptions {
  /**
   * Judges a state, given how many events of each program are done; a text says what is wrong with it. The
   * array is reused between calls.
   */
  readonly invariant?: (positions: readonly number[]) => string | undefined;
  /** Most states to visit. */
  readonly limit: number;
}

/**
 * Explores every interleaving of programs that communicate by single-use signals: breadth first over the
 * vectors of positions, which determine the marks of the signals. Deterministic.
 */
export function explore(programs: readonly Program[], options: ExploreOptions): Exploration {
  const space = new StateSpace(programs);
  const uses = signalUses(programs);
  for (let index = 0; index < space.size; index += 1) {
    if (space.size > options.limit) return { states: space.size, verdict: 'limit' };
    const positions = space.positionsAt(index);
    const found = judge(programs, uses, positions, options.invariant);
    if ('verdict' in found) {
      const { verdict, problem, last } = found;
      return { states: space.size, verdict, problem, trace: [...space.traceTo(index), ...last] };
    }
    for (const program of found.enabled) space.visit(index, positions, program);
  }
  return { states: space.size, verdict: 'ok' };
}

interface Wrong {
  readonly verdict: InterleavingVerdict;
  readonly problem: string;
  readonly last: readonly EventRef[];
}

/** What is wrong with a state, or else which programs can go on. */
function judge(
  programs: readonly Program[],
  uses: ReadonlyMap<string, SignalUse>,
  positions: readonly number[],
  invariant: ExploreOptions['invariant'],
): Wrong | { readonly enabled: readonly number[] } {
  const broken = invariant?.(positions);
  if (broken !== undefined) return { verdict: 'violated', problem: broken, last: [] };
  const done = ({ program, event }: EventRef): boolean => positions[program]! > event;
  const enabled: number[] = [];
  for (let program = 0; program < programs.length; program += 1) {
    const event = programs[program]![positions[program]!];
    if (event === undefined) continue;
    if (event.kind === 'do') enabled.push(program);
    else {
      const use = uses.get(event.signal)!;
      const sent = use.sends.some(done);
      if (event.kind === 'send' && sent) {
        const last = [{ program, event: positions[program]! }];
        return { verdict: 'signal-fault', problem: `signal "${event.signal}" is sent a second time`, last };
      }
      if (event.kind === 'send' || (sent && !use.awaits.some(done))) enabled.push(program);
    }
  }
  return enabled.length > 0 ? { enabled } : (judgeEnd(programs, uses, positions) ?? { enabled });
}

/** A state in which nothing can go on: fine only if all is done and no signal is left over. */
function judgeEnd(
  programs: readonly Program[],
  uses: ReadonlyMap<string, SignalUse>,
  positions: readonly number[],
): Wrong | undefined {
  const waits: string[] = [];
  programs.forEach((events, program) => {
    const event = events[positions[program]!];
    if (event?.kind === 'await') waits.push(`program ${program} waits for signal "${event.signal}"`);
  });
  if (waits.length > 0) return { verdict: 'deadlock', problem: waits.join('; '), last: [] };
  for (const [signal, use] of uses) {
    if (use.sends.length > 0 && use.awaits.length === 0)
      return { verdict: 'signal-fault', problem: `signal "${signal}" is sent and never consumed`, last: [] };
  }
  return undefined;
}

/** The states seen, in the order of their discovery, each with the state and the program it was reached by. */
class StateSpace {
  private readonly seen = new Set<number | string>();
  private readonly positions: number[] = [];
  private readonly cameFrom: number[] = [-1];
  private readonly movedBy: number[] = [-1];
  private readonly current: number[];
  /** Weight of each position in the packed key. */
  private readonly weights: number[] = [];
  private readonly packs: boolean;

  constructor(programs: readonly Program[]) {
    let weight = 1;
    for (const events of programs) {
      this.weights.push(weight);
      weight *= events.length + 1;
    }
    this.packs = Number.isSafeInteger(weight);
    this.current = programs.map(() => 0);
    this.positions.push(...this.current);
    this.seen.add(this.keyOf(this.current));
  }

  get size(): number {
    return this.cameFrom.length;
  }

  positionsAt(index: number): number[] {
    const width = this.current.length;
    for (let i = 0; i < width; i += 1) this.current[i] = this.positions[index * width + i]!;
    return this.current;
  }

  /** Adds the state in which this program has gone one event further, unless it is known. */
  visit(index: number, positions: number[], program: number): void {
    positions[program]! += 1;
    const key = this.keyOf(positions);
    if (!this.seen.has(key)) {
      this.seen.add(key);
      this.positions.push(...positions);
      this.cameFrom.push(index);
      this.movedBy.push(program);
    }
    positions[program]! -= 1;
  }

  traceTo(index: number): EventRef[] {
    const trace: EventRef[] = [];
    const width = this.current.length;
    for (let at = index; this.cameFrom[at]! >= 0; at = this.cameFrom[at]!) {
      const program = this.movedBy[at]!;
      trace.push({ program, event: this.positions[at * width + program]! - 1 });
    }
    return trace.reverse();
  }

  private keyOf(positions: readonly number[]): number | string {
    if (!this.packs) return positions.join(',');
    let key = 0;
    for (let i = 0; i < positions.length; i += 1) key += positions[i]! * this.weights[i]!;
    return key;
  }
}

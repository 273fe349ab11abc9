import { signalUses, type Program } from './concurrent-program.js';

const DO = 0;
const SEND = 1;
const AWAIT = 2;

/** Programs packed into numbers, so that a state is an array of how many events of each program are done. */
export class ProgramMachine {
  readonly names: readonly string[];
  private readonly kinds: readonly Uint8Array[];
  private readonly signals: readonly Int32Array[];
  /** By signal: pairs of program and event. */
  private readonly sends: readonly Int32Array[];
  private readonly awaits: readonly Int32Array[];

  constructor(programs: readonly Program[]) {
    const uses = signalUses(programs);
    this.names = [...uses.keys()];
    const numbers = new Map(this.names.map((name, i) => [name, i]));
    this.kinds = programs.map((events) =>
      Uint8Array.from(events, ({ kind }) => (kind === 'do' ? DO : kind === 'send' ? SEND : AWAIT)),
    );
    this.signals = programs.map((events) =>
      Int32Array.from(events, (event) => (event.kind === 'do' ? -1 : numbers.get(event.signal)!)),
    );
    const packed = (key: 'sends' | 'awaits'): Int32Array[] =>
      [...uses.values()].map((use) =>
        Int32Array.from(use[key].flatMap(({ program, event }) => [program, event])),
      );
    this.sends = packed('sends');
    this.awaits = packed('awaits');
  }

  get width(): number {
    return this.kinds.length;
  }

  /** Whether every signal is sent once and awaited once. */
  get singleUse(): boolean {
    return [...this.sends, ...this.awaits].every(({ length }) => length === 2);
  }

  done(positions: Int32Array, program: number): boolean {
    return positions[program]! >= this.kinds[program]!.length;
  }

  /** Whether the next event of a program, which must have one, can happen; a send always can. */
  enabled(positions: Int32Array, program: number): boolean {
    const position = positions[program]!;
    if (this.kinds[program]![position] !== AWAIT) return true;
    const signal = this.signals[program]![position]!;
    return anyDone(this.sends[signal]!, positions) && !anyDone(this.awaits[signal]!, positions);
  }

  /** The signal that the next event of a program would send although it was sent before. */
  sentAgain(positions: Int32Array, program: number): string | undefined {
    const position = positions[program]!;
    if (this.kinds[program]![position] !== SEND) return undefined;
    const signal = this.signals[program]![position]!;
    return anyDone(this.sends[signal]!, positions) ? this.names[signal] : undefined;
  }

  /** The signal that a program waits for; undefined where its next event is no wait. */
  waitsFor(positions: Int32Array, program: number): string | undefined {
    const position = positions[program]!;
    if (this.kinds[program]![position] !== AWAIT) return undefined;
    return this.names[this.signals[program]![position]!];
  }

  /** A signal that is sent somewhere and awaited nowhere. */
  get leftOver(): string | undefined {
    return this.names.find((_, i) => this.sends[i]!.length > 0 && this.awaits[i]!.length === 0);
  }
}

function anyDone(pairs: Int32Array, positions: Int32Array): boolean {
  for (let i = 0; i < pairs.length; i += 2) if (positions[pairs[i]!]! > pairs[i + 1]!) return true;
  return false;
}

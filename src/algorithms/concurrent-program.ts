/**
 * One event of a sequential program. A signal is single-use: it is sent once and awaited once; an await blocks
 * until the signal is marked and takes the mark away.
 */
export type ProgramEvent =
  | { readonly kind: 'do'; readonly label: string }
  | { readonly kind: 'send'; readonly signal: string }
  | { readonly kind: 'await'; readonly signal: string };

export type Program = readonly ProgramEvent[];

/** The event with this index of the program with this index. */
export interface EventRef {
  readonly program: number;
  readonly event: number;
}

export interface SignalUse {
  readonly sends: readonly EventRef[];
  readonly awaits: readonly EventRef[];
}

/** Where each signal is sent and awaited, in the order of first mention. */
export function signalUses(programs: readonly Program[]): ReadonlyMap<string, SignalUse> {
  const uses = new Map<string, { sends: EventRef[]; awaits: EventRef[] }>();
  programs.forEach((events, program) => {
    events.forEach((entry, event) => {
      if (entry.kind === 'do') return;
      const use = uses.get(entry.signal) ?? { sends: [], awaits: [] };
      uses.set(entry.signal, use);
      (entry.kind === 'send' ? use.sends : use.awaits).push({ program, event });
    });
  });
  return uses;
}

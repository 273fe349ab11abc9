/** Both lines of a four-phase handshake: the sender drives the request, the receiver the acknowledge. */
export interface Wires {
  readonly request: boolean;
  readonly acknowledge: boolean;
}

export type FourPhase = 'idle' | 'requested' | 'acknowledged' | 'released';

export type FourPhaseFault =
  | 'acknowledge-without-request'
  | 'request-dropped-early'
  | 'acknowledge-dropped-early'
  | 'request-raised-early'
  | 'phase-skipped'
  | 'no-request'
  | 'no-acknowledge'
  | 'request-stuck'
  | 'acknowledge-stuck'
  | 'restart-in-mid-phase';

export type FourPhaseOutcome =
  | { readonly kind: 'phase'; readonly phase: FourPhase }
  | { readonly kind: 'fault'; readonly fault: FourPhaseFault };

interface Row {
  readonly wires: Wires;
  readonly next: FourPhase;
  /** What lines other than these and those of the next phase mean, by how they read as request and acknowledge. */
  readonly faults: Readonly<Partial<Record<'00' | '01' | '10' | '11', FourPhaseFault>>>;
  readonly timeOut: FourPhaseFault;
}

/** Return-to-zero signalling: request and acknowledge 00 -> 10 -> 11 -> 01 -> 00, and all else is a fault (textbook). */
const TABLE: Readonly<Record<FourPhase, Row>> = {
  idle: {
    wires: { request: false, acknowledge: false },
    next: 'requested',
    faults: { '01': 'acknowledge-without-request', '11': 'phase-skipped' },
    timeOut: 'no-request',
  },
  requested: {
    wires: { request: true, acknowledge: false },
    next: 'acknowledged',
    faults: { '00': 'request-dropped-early', '01': 'request-dropped-early' },
    timeOut: 'no-acknowledge',
  },
  acknowledged: {
    wires: { request: true, acknowledge: true },
    next: 'released',
    faults: { '10': 'acknowledge-dropped-early', '00': 'phase-skipped' },
    timeOut: 'request-stuck',
  },
  released: {
    wires: { request: false, acknowledge: true },
    next: 'idle',
    faults: { '11': 'request-raised-early', '10': 'request-raised-early' },
    timeOut: 'acknowledge-stuck',
  },
};

/** The phases from the first to where it begins again, with the lines in each. */
export const FOUR_PHASES: readonly { readonly phase: FourPhase; readonly wires: Wires }[] = (
  ['idle', 'requested', 'acknowledged', 'released'] as const
).map((phase) => ({ phase, wires: TABLE[phase].wires }));

/** The lines as two digits, the request first. */
export const wiresText = ({ request, acknowledge }: Wires): '00' | '01' | '10' | '11' =>
  `${request ? 1 : 0}${acknowledge ? 1 : 0}`;

/** The phase after the lines have been seen: the same, the next, or else a fault. */
export function observe(phase: FourPhase, wires: Wires): FourPhaseOutcome {
  const row = TABLE[phase];
  const seen = wiresText(wires);
  if (seen === wiresText(row.wires)) return { kind: 'phase', phase };
  const fault = row.faults[seen];
  return fault === undefined ? { kind: 'phase', phase: row.next } : { kind: 'fault', fault };
}

/** What is wrong when a phase in which something is waited for lasts too long. */
export const timedOut = (phase: FourPhase): FourPhaseOutcome => ({
  kind: 'fault',
  fault: TABLE[phase].timeOut,
});

/** One side starts anew with its line off: harmless when idle, else nobody knows what the other side took it for. */
export const restarted = (phase: FourPhase): FourPhaseOutcome =>
  phase === 'idle' ? { kind: 'phase', phase } : { kind: 'fault', fault: 'restart-in-mid-phase' };

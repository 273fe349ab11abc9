import type { Program, ProgramEvent } from './concurrent-program.js';
import { FOUR_PHASES, wiresText } from './four-phase.js';

/** Programs as they run with four-phase handshakes. */
export interface FourPhasePrograms {
  /** The programs given, then two for each pair of lines: what sender and receiver do in the background. */
  readonly programs: readonly Program[];
  /** By program and events done of it: how many events of the program given are done. */
  readonly given: readonly Int32Array[];
}

type Mark = 'sent' | 'request on' | 'acknowledge on' | 'request off' | 'acknowledge off';

const mark = (signal: string, what: Mark): string => JSON.stringify([signal, what]);

/** How sender and receiver move from each phase to the next, in the order of the phases. */
const MOVES: readonly string[] = [
  'the sender raises the request in its signal step, once the acknowledge of the time before is off, and goes on',
  'the receiver raises the acknowledge in its await step and goes on',
  'the sender drops the request in the background when it sees the acknowledge',
  'the receiver drops the acknowledge in the background when the request is off; the lines may be used again',
];

/** How the phases go with the steps, a line for each. */
export const FOUR_PHASE_PROTOCOL: readonly string[] = FOUR_PHASES.map(({ wires }, i) => {
  const next = FOUR_PHASES[(i + 1) % FOUR_PHASES.length]!;
  return `request and acknowledge ${wiresText(wires)} -> ${wiresText(next.wires)}: ${MOVES[i]!}`;
});

/**
 * Writes every phase of every handshake as an event of its own, in single-use marks. `lines` has the signals of each
 * pair of lines in the order in which they use it, each sent in one program and awaited in one; the others stay single-use.
 * The sender does not wait for the acknowledge; before it uses the lines again it waits until they are idle.
 */
export function fourPhasePrograms(
  programs: readonly Program[],
  lines: readonly (readonly string[])[],
): FourPhasePrograms {
  /** Of each signal on a line the one before on it. */
  const earlier = new Map(lines.flatMap((line) => line.map((signal, i) => [signal, line[i - 1]] as const)));
  const mains = programs.map((events) => events.map((event) => phasesOf(event, earlier)));
  const background = lines.flatMap((line): Program[] => [
    line.flatMap((signal): ProgramEvent[] => [
      { kind: 'await', signal: mark(signal, 'acknowledge on') },
      { kind: 'send', signal: mark(signal, 'request off') },
    ]),
    line.flatMap((signal, i): ProgramEvent[] => [
      { kind: 'await', signal: mark(signal, 'request off') },
      i === line.length - 1
        ? { kind: 'do', label: mark(signal, 'acknowledge off') }
        : { kind: 'send', signal: mark(signal, 'acknowledge off') },
    ]),
  ]);
  return {
    programs: [...mains.map((events) => events.flat()), ...background],
    given: mains.map(
      (events) =>
        new Int32Array([
          0,
          ...events.flatMap((all, i) => all.map((_, k) => (k < all.length - 1 ? i : i + 1))),
        ]),
    ),
  };
}

/** What one event of a program is with phases. */
function phasesOf(
  event: ProgramEvent,
  earlier: ReadonlyMap<string, string | undefined>,
): readonly ProgramEvent[] {
  if (event.kind === 'do') return [event];
  const { kind, signal } = event;
  if (!earlier.has(signal)) return [{ kind, signal: mark(signal, 'sent') }];
  if (kind === 'await')
    return [
      { kind, signal: mark(signal, 'request on') },
      { kind: 'send', signal: mark(signal, 'acknowledge on') },
    ];
  const before = earlier.get(signal);
  return [
    ...(before === undefined ? [] : [{ kind: 'await', signal: mark(before, 'acknowledge off') } as const]),
    { kind, signal: mark(signal, 'request on') },
  ];
}
